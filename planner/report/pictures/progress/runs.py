"""The runs of an evening as marks over minutes and value, and what the failed ones cost."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

from planner.domain.knob import Knob
from planner.history import History
from planner.models.edge_search import EdgeSearch
from planner.report.pictures.endings import Ending, ending_of

MANY = 300
"""More runs than this share marks: more could not be told apart."""
TIMES, ROWS = 50, 36
"""So many marks fit beside and above each other."""


@dataclass(frozen=True, slots=True)
class Placed:
    """One run on the picture."""

    minutes: float
    """Bench minutes at its end."""
    value: float
    ending: Ending
    aside: bool
    """Whether another knob stood elsewhere, or another workload ran."""


@dataclass(frozen=True, slots=True)
class Tried:
    """Runs that share a mark."""

    minutes: float
    value: float
    ending: Ending
    aside: bool
    count: int


@dataclass(frozen=True, slots=True)
class Lost:
    """What failed runs cost."""

    runs: int
    minutes: float
    """Bench minutes of them, recovery included."""
    restarts: int
    spans: tuple[tuple[float, float], ...]
    """From when to when, in bench minutes; none where there are too many to be told apart."""


def placed_runs(search: EdgeSearch) -> tuple[Placed, ...]:
    """Every run that counts and has a number as its value, in order."""
    history, knob = search.history, search.knob
    definition, workload = history.definition, history.definition.workload.name
    others = [name for name in search.base if name != knob.name]
    base = [search.base[name] for name in others]
    spent, placed = 0.0, []
    for run in history.evidence:
        spent += run.minutes
        value = run.ran[knob.name]
        if not isinstance(value, str):
            aside = run.workload != workload or [run.ran[name] for name in others] != base
            placed.append(Placed(spent, float(value), ending_of(run, definition), aside))
    return tuple(placed)


def gathered(
    placed: Sequence[Placed], knob: Knob, minutes: float
) -> tuple[tuple[Tried, ...], float | None]:
    """The runs as marks, and the minutes that share one; None where each has its own place."""
    if len(placed) <= MANY:
        return _marks(placed), None
    width = (minutes or 1.0) / TIMES
    endings = [ending for ending in Ending if any(run.ending is ending for run in placed)]
    shift = {ending: (at + 0.5) / len(endings) for at, ending in enumerate(endings)}
    rows = _rows(knob, placed)
    return _marks(
        [
            Placed(
                (min(int(run.minutes / width), TIMES - 1) + shift[run.ending]) * width,
                rows.get(run.value, run.value),
                run.ending,
                run.aside,
            )
            for run in placed
        ]
    ), width


def _marks(placed: Sequence[Placed]) -> tuple[Tried, ...]:
    counted = Counter((p.minutes, p.value, p.ending, p.aside) for p in placed)
    return tuple(Tried(*place, count) for place, count in counted.items())


def _rows(knob: Knob, placed: Sequence[Placed]) -> dict[float, float]:
    """For each value the one that stands for it, where there are too many."""
    values = {run.value for run in placed}
    if len(values) <= ROWS:
        return {}
    low, high = min(values), max(values)
    height = (high - low) / ROWS
    rows = {value: min(int((value - low) / height), ROWS - 1) for value in values}
    return {value: low + (row + 0.5) * height for value, row in rows.items()}


def best_steps(placed: Sequence[Placed], knob: Knob) -> tuple[tuple[float, float], ...]:
    """From when on which value was the hardest at which a nominal run had held."""
    steps, hardest = [], -inf
    for run in placed:
        if run.ending is Ending.PASSED and not run.aside and knob.hardness(run.value) > hardest:
            hardest = knob.hardness(run.value)
            steps.append((run.minutes, run.value))
    return tuple(steps)


def lost_on(history: History) -> Lost:
    """What the failed runs cost, and when."""
    spans: list[tuple[float, float]] = []
    runs, minutes, restarts, spent = 0, 0.0, 0, 0.0
    for run in history.evidence:
        spent += run.minutes
        if not run.outcome.failed:
            continue
        runs, minutes, restarts = runs + 1, minutes + run.minutes, restarts + run.outcome.restarts
        spans.append((spent - run.minutes, spent))
    return Lost(runs, minutes, restarts, tuple(spans) if runs <= MANY else ())
