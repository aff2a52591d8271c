"""The same facts as plain tables for `--json`: keys stay, new ones may join them."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from math import inf
from typing import TYPE_CHECKING, Any

from planner.domain.knob import Value
from planner.domain.ledger import Head
from planner.domain.run import Proposal
from planner.forecast.readings import forecast_readings
from planner.history import History
from planner.models.findings import Edge, Recommendation
from planner.models.plans import Hours, Plans
from planner.report.tables.document import run_document
from planner.report.text.broken_notes import broken_notes
from planner.report.text.ceilings import blank
from planner.report.text.checked import Checked, objections_to_stock
from planner.report.text.standing import Standing, void_minutes

if TYPE_CHECKING:  # a search over many knobs takes long to load, and most documents need none
    from planner.peak.alternatives import Alternative
    from planner.peak.blame import Blame
    from planner.peak.forecast import Forecast
    from planner.peak.samples import SampleEdge, Spread


def next_document(
    history: History,
    proposal: Proposal | None,
    owed: bool,
    best: Recommendation,
    everyday: Recommendation | None,
    others: "Sequence[Alternative]" = (),
) -> dict[str, Any]:
    """For `next --json`; `owed`: whether an answer comes first."""
    return {
        "study": history.definition.goal.name,
        "proposal": None if proposal is None else _proposal(history, proposal),
        "expected_readings": {} if proposal is None else expected(history, proposal.settings),
        "answer_owed": owed,
        "closed": None if proposal else history.closed or history.verdict,
        "best": _recommendation(history, best),
        "best_everyday": None if everyday is None else _recommendation(history, everyday),
        "others": [asdict(other) for other in others],
    }


def standing_document(standing: Standing) -> dict[str, Any]:
    """For `show --json`."""
    history = standing.history
    goal = history.definition.goal
    return {
        "study": goal.name,
        "aim": goal.aim.value,
        "target": goal.target,
        "edges": [_edge(edge) for edge in standing.edges.values()],
        "frontier": None if standing.frontier is None else asdict(standing.frontier),
        "best": _recommendation(history, standing.best),
        "best_everyday": None
        if standing.everyday is None
        else _recommendation(history, standing.everyday),
        "runs": [run_document(history.definition, run) for run in history.runs],
        "pending": [_proposal(history, proposal) for proposal in history.pending.values()],
        "minutes": {
            "spent": history.minutes_spent,
            "void": void_minutes(history),
            "available": goal.minutes,
        },
        "ceilings": _ceilings(history),
        "expected_readings": expected(history, standing.best.settings),
        "closing": standing.closing,
        "closed": history.closed or None,
        "head": _head(standing.head),
    }


def blame_document(blame: "Blame") -> dict[str, Any]:
    """For `why --json`; the empty name stands for a stray crash."""
    return asdict(blame)


def plans_document(
    history: History, best: Recommendation, plans: Plans, hours: Hours | None
) -> dict[str, Any]:
    """For `claim --json`; hours that no run can make up any more are null."""
    found = None if hours is None else asdict(hours)
    if found is not None and found["owed"] == inf:
        found["owed"] = None
    return {
        "study": history.definition.goal.name,
        "workload": history.definition.workload.name,
        "best": _recommendation(history, best),
        **asdict(plans),
        "owed": plans.owed,
        "can_be_met": best.claim.passes == best.claim.runs,
        "hours": found,
        "held_hours": best.claim.hours,
    }


def checked_document(checked: Checked) -> dict[str, Any]:
    """For `check --json`."""
    history = checked.history
    return {
        "study": history.definition.goal.name,
        "adopted": checked.adopted,
        "repaired": checked.repaired,
        "head": _head(checked.head),
        "head_holds": checked.head_holds if checked.asked_head else None,
        "runs": len(history.runs),
        "notes_broken_at_stock": [
            f"{note.rule.name}: {note.rule.holds.text}"
            for note in broken_notes(history.definition, history.definition.stock)
        ],
        "objections_to_stock": objections_to_stock(history),
        "no_everyday_ceiling": blank(history.definition),
    }


def expected(history: History, setting: Mapping[str, Value]) -> dict[str, Any]:
    """What readings should come to at a setting, by name."""
    found = forecast_readings(history, setting)
    return {name: asdict(predicted) for name, predicted in found.items()}


def _head(head: Head) -> dict[str, Any]:
    return {"seq": head.seq, "chain": head.chain}


def _proposal(history: History, proposal: Proposal) -> dict[str, Any]:
    return {
        "run": proposal.number,
        "settings": dict(proposal.settings),
        "changes": [
            {"knob": c.knob, "before": c.before, "after": c.after, "unit": c.unit}
            for c in proposal.changes
        ],
        "workload": proposal.workload,
        "run_minutes": proposal.run_minutes,
        "start_when": proposal.start_when,
        "reason": proposal.reason,
        "pass_probability": proposal.pass_probability,
        "minutes": proposal.minutes,
        "at_own_risk": list(proposal.at_own_risk),
        "notes_broken": _notes(history, proposal.settings),
        "bench": proposal.bench,
        "time": proposal.time,
    }


def _recommendation(history: History, best: Recommendation) -> dict[str, Any]:
    claim = best.claim
    return {
        "settings": dict(best.settings),
        "holds": best.holds,
        "pass_probability": best.pass_probability,
        "interval": list(best.interval),
        "at_own_risk": list(best.at_own_risk),
        "notes_broken": _notes(history, best.settings),
        "passes": claim.passes,
        "runs": claim.runs,
        "cold_boots": claim.cold_boots,
        "lower_bound": claim.lower_bound,
        "passes_owed": claim.passes_owed,
        "cold_boots_owed": claim.cold_boots_owed,
        "spoilt": claim.spoilt,
    }


def _notes(history: History, setting: Mapping[str, Value]) -> list[dict[str, Any]]:
    return [note.document for note in broken_notes(history.definition, setting)]


def _edge(edge: Edge) -> dict[str, Any]:
    return {
        "knob": edge.knob,
        "unit": edge.unit,
        "edge": edge.value,
        "interval": list(edge.interval),
        "level": edge.level,
        "target": edge.target,
        "beyond_easy": edge.beyond_easy,
        "beyond_hard": edge.beyond_hard,
        "runs": edge.runs,
        "separation": edge.separation.value,
    }


def _ceilings(history: History) -> list[dict[str, Any]]:
    left_blank = blank(history.definition)
    return [
        {
            "name": name,
            "everyday": None if ceilings.everyday == -inf else ceilings.everyday,
            "own_risk": ceilings.own_risk,
            "hard_stop": ceilings.hard_stop,
            "filled_in": name not in left_blank,
            "accepted_up_to": history.accepted.get(name),
        }
        for name, ceilings in history.definition.guarded.items()
        if ceilings.given
    ]


def samples_document(
    samples: "Mapping[str, Mapping[str, SampleEdge]]", spreads: "Mapping[str, Spread]"
) -> dict[str, Any]:
    """For `samples --json`, in the knobs' units."""
    return {
        "samples": {
            name: {knob: asdict(edge) for knob, edge in edges.items()}
            for name, edges in samples.items()
        },
        "next": {
            knob: {**asdict(spread), "expected": list(spread.expected)}
            for knob, spread in spreads.items()
        },
    }


def forecast_document(history: History, forecast: "Forecast") -> dict[str, Any]:
    """For `forecast --json`; scores, and minutes from now on."""
    return {"study": history.definition.goal.name, **asdict(forecast)}
