"""The runs of an evening as marks over minutes and value, and what the failed ones cost."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

from planner.domain.knob import Knob
from planner.domain.run import Run
from planner.history import History
from planner.models.edge_search import EdgeSearch
from planner.report.pictures.endings import Ending, ending_of
from planner.report.pictures.searched import traced_along

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
    speaks: bool
    """Whether, if it held, it bears out a value to keep: not aside or, of a frontier, where the
    second knob is harder and the edge most likely no higher."""
    along: float | None
    """The second knob of a frontier."""


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
    knob, along = search.knob, traced_along(search.history)
    spent, placed = 0.0, []
    for run in search.history.evidence:
        spent += run.minutes
        value = run.ran[knob.name]
        if not isinstance(value, str):
            placed.append(_placed(search, along, run, spent, float(value)))
    return tuple(placed)


def _placed(search: EdgeSearch, along: Knob | None, run: Run, spent: float, value: float) -> Placed:
    definition, base = search.history.definition, search.base
    apart = {n for n, v in base.items() if n != search.knob.name and run.ran[n] != v}
    other = run.workload != definition.workload.name
    speaks, second = not apart and not other, None
    if along is not None and not isinstance(at := run.ran[along.name], str):
        second = float(at)
        if apart == {along.name} and not other:
            harder = along.hardness(second) > along.hardness(float(base[along.name]))
            speaks = harder and search.passed_at_or_above(value)
    ending = ending_of(run, definition)
    return Placed(spent, value, ending, bool(apart) or other, speaks, second)


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
                run.speaks,
                run.along,
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


def best_runs(placed: Sequence[Placed], knob: Knob) -> tuple[Placed, ...]:
    """The runs that each held at a harder value than any before them, of those that speak."""
    found, hardest = [], -inf
    for run in placed:
        if run.ending is Ending.PASSED and run.speaks and knob.hardness(run.value) > hardest:
            hardest = knob.hardness(run.value)
            found.append(run)
    return tuple(found)


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
