"""Gathers a settings sheet from what the ledger tells and what the search makes of it."""

from planner.domain.definition import Definition
from planner.domain.knob import Knob
from planner.domain.ledger import Head
from planner.domain.tables import Aim, Derived
from planner.history import History
from planner.models.edge import LEVEL
from planner.models.findings import Recommendation
from planner.models.frontier.findings import Frontier
from planner.report.sheet.claimed import Evidence
from planner.report.sheet.claims import claims_of, told_changes, unclaimed_scores
from planner.report.sheet.nouns import CeilingLine, Kept, Search, Sheet, Traced
from planner.report.sheet.settings import lines_of_setting
from planner.report.written.blocks import Attached

_DAY = len("2026-01-02")


def sheet_of(
    history: History, search: Search | None, head: Head, attached: tuple[Attached, ...] = ()
) -> Sheet:
    """The sheet of a study as it stands; `search`: None where no knob has a range."""
    goal, searched = history.definition.goal, history.definition.searched
    evidence = history.evidence
    return Sheet(
        study=goal.name,
        aim=goal.aim.value,
        knob=searched.name if searched and goal.aim.one_knob else "",
        along=goal.along if goal.aim is Aim.FRONTIER else "",
        days=tuple(sorted({run.time[:_DAY] for run in evidence if run.time})),
        runs=len(evidence),
        void_runs=len(history.runs) - len(evidence),
        failed_runs=sum(run.outcome.failed for run in evidence),
        minutes=history.minutes_spent,
        rig=history.definition.rig,
        changes=told_changes(history),
        claims=claims_of(history, {file.name for file in attached}),
        unclaimed=unclaimed_scores(history),
        search=search,
        ceilings=_ceilings(history),
        attached=attached,
        head=head,
    )


def search_of(
    history: History,
    best: Recommendation,
    everyday: Recommendation | None,
    closing: str | None,
    frontier: Frontier | None = None,
) -> Search:
    """What the search came to; `everyday`: the best everyday setting where a risk was accepted.

    `closing`: the reason to close by the rules; None while runs are worth making.
    """
    definition = history.definition
    knobs = definition.knobs
    found = [best]
    if everyday is not None and everyday.settings != best.settings:
        found.append(everyday)
    return Search(
        target=definition.goal.target,
        workload=definition.workload.name,
        nominal_minutes=definition.workload.minutes,
        confidence=definition.goal.confidence,
        cold_boots=definition.goal.cold_boots,
        reason=history.closed or closing or "",
        kept=tuple(_kept(definition, one) for one in found),
        traced=None
        if frontier is None
        else Traced(knobs[frontier.knob], knobs[frontier.along], frontier),
    )


def _kept(definition: Definition, best: Recommendation) -> Kept:
    claim = best.claim
    return Kept(
        lines=lines_of_setting(definition, best.settings),
        at_own_risk=best.at_own_risk,
        holds=best.holds,
        pass_probability=best.pass_probability,
        interval=best.interval,
        level=LEVEL,
        evidence=Evidence(
            passes=claim.passes,
            runs=claim.runs,
            cold_boots=claim.cold_boots,
            lower_bound=claim.lower_bound,
            confidence=definition.goal.confidence or LEVEL,
            least_minutes=definition.workload.minutes,
        ),
        passes_owed=claim.passes_owed,
        cold_boots_owed=claim.cold_boots_owed,
        spoilt=claim.spoilt,
    )


def _ceilings(history: History) -> tuple[CeilingLine, ...]:
    definition = history.definition
    nouns: dict[str, Knob | Derived] = {**definition.knobs, **definition.derived}
    return tuple(
        CeilingLine(
            name=name,
            unit=nouns[name].unit,
            everyday=nouns[name].ceilings.everyday,
            own_risk=nouns[name].ceilings.own_risk,
            hard_stop=nouns[name].ceilings.hard_stop,
            stock_holds=nouns[name].ceilings.everyday is None and bounded.everyday is not None,
            accepted=history.accepted.get(name),
        )
        for name, bounded in definition.guarded.items()
        if bounded.given
    )
