"""What the page shows, in words: frozen, and drawn without asking the study anything."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from planner.bench import boot_mark, same_boot
from planner.domain.quantity import with_unit
from planner.domain.run import Proposal, Run
from planner.domain.tables import Aim
from planner.history import History
from planner.report.text import phrases
from planner.report.text.best import evidence_rows
from planner.report.text.confidence import claim_rows
from planner.report.text.frontier import frontier_lines
from planner.report.text.outlook import barred_rows, expected_rows
from planner.report.text.proposal import run_rows as proposal_rows
from planner.report.text.proposal import warnings
from planner.report.text.recorded import recorded_text
from planner.report.text.runs import run_rows
from planner.report.text.show import edge_rows, edge_shapes, minutes_text
from planner.report.text.standing import Standing

if TYPE_CHECKING:
    from planner.peak.blame import Blame

Rows = Sequence[tuple[str, ...]]
LAST = 8
"""Runs listed."""
_ON_ONE_LINE, _NARROW = 10_000, 40
"""Characters to a line of text; the narrow one fits a phone."""
_CLOSED = "The study is closed. If this run was made, tell how it ended; nothing more is asked for."
_RESTARTED = (
    "This machine was started anew since this run was asked for, and it has no answer yet: if it"
    " was run, tell how it ended; if not, run it now."
)


@dataclass(frozen=True, slots=True)
class Asked:
    """The run to be made."""

    number: int
    changes: Rows
    """Knob, value before, value after."""
    warnings: Sequence[str]
    rows: Rows
    settings: Rows
    """Every knob and the value that it should have."""
    score_name: str
    """What the score is of; empty where the workload has none."""
    parts: Sequence[str]
    readings: Rows
    """Name and unit of what may be measured."""


@dataclass(frozen=True, slots=True)
class View:
    """The whole page."""

    name: str
    aim: str
    mark: str
    """Changes whenever anyone writes to the ledger."""
    asked: Asked | None
    """None: nothing is left to run."""
    last: str
    """The run that was recorded last; empty: none was."""
    best: Rows
    edges: Rows
    shapes: Sequence[str]
    frontier: str
    """The edge along a second knob, in lines; empty where that is not the aim."""
    blame: Rows
    blamed: int
    """The failed run that `blame` is about; 0: none."""
    runs: Rows
    minutes: str
    advice: tuple[str, str]


def view_of(
    standing: Standing, proposal: Proposal | None, mark: str, suffix: str, blame: "Blame | None"
) -> View:
    """The page of a study; `suffix`: what a command needs after it to mean that study."""
    history = standing.history
    definition = history.definition
    rows = evidence_rows(definition, standing.best) + claim_rows(definition, standing.best)
    if standing.everyday is not None and standing.everyday.settings != standing.best.settings:
        rows += evidence_rows(definition, standing.everyday, "Everyday")
    frontier = ""
    if standing.frontier is not None:
        frontier = "\n".join(frontier_lines(definition, standing.frontier, _NARROW))
    return View(
        name=definition.goal.name,
        aim=definition.goal.aim,
        mark=mark,
        asked=None if proposal is None else _asked(history, proposal),
        last=_last(history),
        best=rows,
        edges=edge_rows(standing) if standing.edges and not frontier else (),
        shapes=edge_shapes(standing),
        frontier=frontier,
        blame=() if blame is None else _blame_rows(history, blame),
        blamed=0 if blame is None else blame.run,
        runs=run_rows(history, LAST),
        minutes=minutes_text(history),
        advice=_advice(standing, proposal, suffix),
    )


def failed_last(history: History) -> Run | None:
    """The run to ask the blame of: the last that counts, if it failed and many knobs are moved."""
    if history.definition.goal.aim is not Aim.PEAK or not history.evidence:
        return None
    run = history.evidence[-1]
    return run if run.outcome.failed else None


def _asked(history: History, proposal: Proposal) -> Asked:
    definition = history.definition
    workload = definition.workloads.get(proposal.workload, definition.workload)
    said = warnings(proposal, history)
    if history.closed:
        said.insert(0, _CLOSED)
    if not same_boot(proposal.boot_mark, boot_mark()):
        said.insert(0, _RESTARTED)
    setting = proposal.settings
    rows = proposal_rows(proposal) + expected_rows(history, setting)
    return Asked(
        number=proposal.number,
        changes=[
            (c.knob, with_unit(c.before, c.unit), with_unit(c.after, c.unit))
            for c in proposal.changes
        ],
        warnings=said,
        rows=rows + barred_rows(history, setting),
        settings=[(name, definition.knobs[name].show(value)) for name, value in setting.items()],
        score_name=workload.name if workload.scored else "",
        parts=[name for name, _ in workload.subscores],
        readings=[(name, reading.unit) for name, reading in definition.readings.items()],
    )


def _last(history: History) -> str:
    if not history.runs:
        return ""
    return recorded_text(history.runs[-1], history.definition, _ON_ONE_LINE).replace("\n", " ")


def _blame_rows(history: History, blame: "Blame") -> Rows:
    from planner.report.text.why import blame_rows

    return blame_rows(history, blame)


def _advice(standing: Standing, proposal: Proposal | None, suffix: str) -> tuple[str, str]:
    history = standing.history
    again = f"To go on all the same: planner reopen{suffix}"
    if history.closed:
        return "Closed", f"{history.closed}. {again}"
    if stop := standing.closing or (history.verdict if proposal is None else ""):
        return "Stop", f"{stop}. {again}"
    left = history.definition.goal.minutes
    if left is None:
        return "Go on", "runs are still worth their minutes."
    rest = phrases.minutes(max(left - history.minutes_spent, 0.0))
    return "Go on", f"{rest} left; runs are still worth them."
