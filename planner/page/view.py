"""What the page shows, in words: frozen, and drawn without asking the study anything."""

from collections.abc import Sequence
from dataclasses import dataclass

from planner.domain.run import Proposal, Run
from planner.history import History
from planner.page.asked import Asked, Rows, asked_of
from planner.page.kept import Kept, kept_of
from planner.page.thinker import Thought
from planner.report.text import phrases
from planner.report.text.frontier import frontier_notes, frontier_rows
from planner.report.text.recorded import flags, recorded_sentences
from planner.report.text.runs import run_rows
from planner.report.text.show import edge_rows, edge_shapes, minutes_text
from planner.report.text.standing import Standing

LAST = 8
"""Runs listed."""
_SHORT = 60
"""Characters that a setting may take above the next run."""


@dataclass(frozen=True, slots=True)
class Stands:
    """How the study stands, as far as it takes a model to tell."""

    kept: Sequence[Kept]
    """The settings to keep, at own risk and everyday."""
    edges: Rows
    frontier: Rows
    """The edge along a second knob; empty where that is not the aim."""
    notes: Sequence[str]
    """Sentences on the table of the two that there is."""
    blame: Rows
    blamed: int
    """The failed run that `blame` is about; 0: none."""


@dataclass(frozen=True, slots=True)
class View:
    """The whole page."""

    name: str
    mark: str
    """Changes whenever anyone writes to the ledger, more was worked out, or a drive begins."""
    asked: Asked | None
    """None: nothing is left to run, or it is being worked out."""
    fault: str
    """Why no run can be asked for; empty: nothing speaks against it."""
    last: str
    """The run that was recorded last, or mended after it; empty: none was."""
    flags: Sequence[str]
    """What about that run is worth a second look."""
    last_number: int
    stands: Stands | None
    """None: it is being worked out."""
    runs: Rows
    minutes: str
    advice: tuple[str, str]


def view_of(
    history: History,
    thought: Thought | None,
    pending: Proposal | None,
    mark: str,
    suffix: str,
    mended: int = 0,
    driven: int = 0,
) -> View:
    """The page of a study; `thought`: None where it is still being worked out.

    `suffix`: what a command needs after it to mean that study. `mended`: a run that was mended
    since the last one was recorded; `driven`: the run that a drive has begun; 0: none.
    """
    told = history.by_number.get(mended) or (history.runs[-1] if history.runs else None)
    standing = None if thought is None else thought.standing
    return View(
        name=history.definition.goal.name,
        mark=mark,
        asked=None if pending is None else asked_of(history, pending, driven == pending.number),
        fault="" if thought is None else thought.fault,
        last="" if told is None else _last(history, told),
        flags=() if told is None else flags(told, history.definition),
        last_number=0 if told is None else told.number,
        stands=None if thought is None or standing is None else _stands(thought, standing),
        runs=_runs(history),
        minutes=_minutes(history),
        advice=_advice(history, standing, pending, suffix),
    )


def _stands(thought: Thought, standing: Standing) -> Stands:
    blame, frontier = thought.blame, standing.frontier
    return Stands(
        kept=kept_of(standing),
        edges=edge_rows(standing) if standing.edges and frontier is None else (),
        notes=edge_shapes(standing) if frontier is None else frontier_notes(frontier),
        frontier=() if frontier is None else frontier_rows(standing.history.definition, frontier),
        blame=() if blame is None else _blame_rows(thought, standing.history),
        blamed=0 if blame is None else blame.run,
    )


def _blame_rows(thought: Thought, history: History) -> Rows:
    """The causes; without a column for groups where none has one."""
    from planner.report.text.why import blame_rows  # brings numpy

    assert thought.blame is not None
    rows = blame_rows(history, thought.blame)
    grouped = any(row[2] for row in rows[1:])
    return rows if grouped else [(*row[:2], row[3]) for row in rows]


def _last(history: History, run: Run) -> str:
    """What is on record of a run; a setting of many knobs stands with the runs below."""
    definition = history.definition
    short = len(phrases.setting(definition, run.ran)) <= _SHORT
    return recorded_sentences(run, definition, where=short)[0]


def _runs(history: History) -> Rows:
    """The last runs; without a column for scores where none has one."""
    rows = run_rows(history, LAST)
    scored = any(row[-2] for row in rows[1:])
    return rows if scored else [(*row[:-2], row[-1]) for row in rows]


def _minutes(history: History) -> str:
    if (left := history.minutes_left) is None:
        return minutes_text(history)
    return f"{phrases.minutes(left)} left; {minutes_text(history)}"


def _advice(
    history: History, standing: Standing | None, pending: Proposal | None, suffix: str
) -> tuple[str, str]:
    again = f"To go on all the same: planner reopen{suffix}"
    if history.closed:
        return "Closed", f"{history.closed}. {again}"
    if standing is None:
        return "Advice", "being worked out"
    if stop := standing.closing or (history.verdict if pending is None else ""):
        return "Stop", f"{stop}. {again}"
    return "Go on", "runs are still worth their minutes."
