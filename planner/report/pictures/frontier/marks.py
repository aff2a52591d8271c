"""The runs of a frontier as marks, at cells that are large enough to be told apart."""

from collections import Counter
from dataclasses import dataclass, replace
from itertools import pairwise
from math import ceil, floor

from planner.domain.definition import Definition
from planner.domain.knob import Knob, Setting, Value
from planner.history import History
from planner.report.pictures.endings import Ending, ending_of
from planner.report.pictures.frontier.fences import is_past_stop
from planner.report.pictures.frontier.panel import Panel

ROW, COLUMN = 7.0, 9.0
"""Points that a mark takes upward and across."""
SMALL, _MOST = 5.5, 6
"""Points across a mark where runs share marks, and for so many of them a place has room."""


@dataclass(frozen=True, slots=True)
class Mark:
    """Runs that share a place and an ending."""

    along: float
    value: float
    ending: Ending
    aside: bool
    """Whether another knob stood elsewhere, or another workload ran."""
    count: int


@dataclass(frozen=True, slots=True)
class Marks:
    """The runs that are drawn."""

    here: tuple[Mark, ...]
    """By place, from the left and from below; at one place by ending, those aside last."""
    between: int = 0
    """Runs between two values, counted at the nearest."""
    unplaced: int = 0
    """Runs at a word instead of a value."""
    shared: tuple[int, int] = (1, 1)
    """So many values of the second and of the searched knob share a mark."""

    @property
    def crowded(self) -> bool:
        """Whether runs at several values share marks."""
        return self.shared != (1, 1)

    @property
    def aside(self) -> int:
        """Runs beside other values of the other knobs, or of another workload."""
        return sum(mark.count for mark in self.here if mark.aside)


def marks_of(history: History, knob: Knob, along: Knob, base: Setting) -> tuple[Marks, int]:
    """The runs at the nearest values; and how many are left out as past a hard stop."""
    definition, workload = history.definition, history.definition.workload.name
    known: dict[tuple[Value, ...], _Spot | None] = {}
    counted: Counter[tuple[float, float, Ending, bool]] = Counter()
    between = unplaced = past = 0
    for run in history.evidence:
        at = tuple(run.ran.values())
        if at not in known:
            known[at] = _spot(definition, knob, along, base, run.ran)
        spot = known[at]
        if spot is None:
            unplaced += 1
        elif spot.past:
            past += 1
        else:
            between += spot.between
            aside = spot.aside or run.workload != workload
            counted[spot.x, spot.y, ending_of(run, definition), aside] += 1
    return Marks(_ordered(counted), between, unplaced), past


@dataclass(frozen=True, slots=True)
class _Spot:
    """Where the runs of one setting stand."""

    x: float
    y: float
    between: bool
    aside: bool
    past: bool
    """Whether it lies past a hard stop."""


def _spot(
    definition: Definition, knob: Knob, along: Knob, base: Setting, ran: Setting
) -> _Spot | None:
    x, y = ran[along.name], ran[knob.name]
    if isinstance(x, str) or isinstance(y, str):
        return None
    place = _nearest(along, x), _nearest(knob, y)
    return _Spot(
        *place,
        between=place != (round(x, 9), round(y, 9)),
        aside=any(ran[n] != v for n, v in base.items() if n not in (knob.name, along.name)),
        past=_past_stop(definition, ran),
    )


def spaced(marks: Marks, definition: Definition, panel: Panel) -> Marks:
    """The marks with as many values to a place as keep them apart; ceilings part places."""
    across = _sharing(panel.x, panel.scale[0], [{mark.along for mark in marks.here}], COLUMN)
    found = _gathered(marks, definition, panel, across)
    if across > 1:  # columns as wide as the marks of a place
        sizes = Counter((mark.along, mark.value) for mark in found.here)
        needs = SMALL * min(max(sizes.values()), _MOST)
        across = max(across, _values_in(panel.x, panel.scale[0], needs))
        found = _gathered(marks, definition, panel, across)
    return found


def _gathered(marks: Marks, definition: Definition, panel: Panel, across: int) -> Marks:
    """With so many values of the second knob to a place, and as few of the first as can be."""
    columns: dict[float, set[float]] = {}
    for mark in marks.here:
        column = _cell(definition, panel.x, mark.along, across)
        columns.setdefault(column, set()).add(mark.value)
    up = _sharing(panel.y, panel.scale[1], list(columns.values()), ROW)
    if (across, up) == (1, 1):
        return marks
    counted: Counter[tuple[float, float, Ending, bool]] = Counter()
    for mark in marks.here:
        x = _cell(definition, panel.x, mark.along, across)
        y = _cell(definition, panel.y, mark.value, up)
        counted[x, y, mark.ending, mark.aside] += mark.count
    return replace(marks, here=_ordered(counted), shared=(across, up))


def _ordered(counted: Counter[tuple[float, float, Ending, bool]]) -> tuple[Mark, ...]:
    order = {ending: place for place, ending in enumerate(Ending)}
    places = sorted(counted, key=lambda c: (c[0], c[1], c[3], order[c[2]]))
    return tuple(Mark(*place, counted[place]) for place in places)


def _past_stop(definition: Definition, ran: Setting) -> bool:
    numbers = definition.numbers(ran)
    return any(
        is_past_stop(ceilings, numbers[name])
        for name, ceilings in definition.guarded.items()
        if name in numbers
    )


def _nearest(knob: Knob, value: float) -> float:
    assert knob.grid is not None, knob.name
    index = floor(round((value - knob.grid.low) / knob.grid.step, 6) + 0.5)
    return round(knob.grid.value(index), 9)


def _sharing(knob: Knob, scale: float, lanes: list[set[float]], needs: float) -> int:
    """How many values share a place so that neighbours in a lane stand `needs` points apart."""
    gaps = [b - a for lane in lanes for a, b in pairwise(sorted(lane))]
    return 1 if not gaps or min(gaps) * scale >= needs else _values_in(knob, scale, needs)


def _values_in(knob: Knob, scale: float, points: float) -> int:
    """How many of the knob's values take so many points."""
    assert knob.grid is not None, knob.name
    return max(1, ceil(points / (knob.grid.step * scale)))


def _cell(definition: Definition, knob: Knob, value: float, every: int) -> float:
    """The middle of the values that share a place with this one, at most a hard stop."""
    assert knob.grid is not None, knob.name
    low, step, ceilings = knob.grid.low, knob.grid.step, definition.guarded[knob.name]
    border = 0
    if ceilings.everyday is not None and ceilings.everyday > low:
        # Places do not reach across the everyday ceiling.
        border = floor(round((ceilings.everyday - low) / step, 6)) + 1
    cell = (round((value - low) / step) - border) // every
    middle = low + step * (border + cell * every + (every - 1) / 2)
    stop = ceilings.hard_stop
    return round(middle if stop is None else min(middle, stop), 9)
