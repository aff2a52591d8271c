"""The runs of a frontier as marks, at cells that are large enough to be told apart."""

from collections import Counter
from dataclasses import dataclass, replace
from itertools import pairwise
from math import ceil, floor

from planner.domain.definition import Definition
from planner.domain.knob import Knob, Setting
from planner.history import History
from planner.report.pictures.endings import Ending, ending_of
from planner.report.pictures.frontier.fences import Frame, is_past_stop

ROOM = (475.0, 335.0)
"""Width and height of the panel in points."""
ROW, COLUMN = 7.0, 9.0
"""Points that a mark takes upward and across."""


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
    others = [name for name in base if name not in (knob.name, along.name)]
    there = [base[name] for name in others]
    known: dict[tuple[object, ...], bool] = {}
    counted: Counter[tuple[float, float, Ending, bool]] = Counter()
    between = unplaced = past = 0
    for run in history.evidence:
        ran = run.ran
        x, y = ran[along.name], ran[knob.name]
        if isinstance(x, str) or isinstance(y, str):
            unplaced += 1
            continue
        at = tuple(ran.values())
        if at not in known:
            known[at] = _past_stop(definition, ran)
        if known[at]:
            past += 1
            continue
        aside = run.workload != workload or [ran[name] for name in others] != there
        place = _nearest(along, x), _nearest(knob, y)
        between += place != (round(x, 9), round(y, 9))
        counted[*place, ending_of(run, definition), aside] += 1
    return Marks(_ordered(counted), between, unplaced), past


def spaced(marks: Marks, definition: Definition, frame: Frame) -> Marks:
    """The marks with as many values to a place as keep them apart; ceilings part places."""
    columns = {mark.along for mark in marks.here}
    across = _sharing(frame.x, frame.x_shown, [columns], ROOM[0], COLUMN)
    by_column: dict[float, set[float]] = {}
    for mark in marks.here:
        column = _cell(definition, frame.x, mark.along, across)
        by_column.setdefault(column, set()).add(mark.value)
    up = _sharing(frame.y, frame.y_shown, list(by_column.values()), ROOM[1], ROW)
    if (across, up) == (1, 1):
        return marks
    counted: Counter[tuple[float, float, Ending, bool]] = Counter()
    for mark in marks.here:
        x = _cell(definition, frame.x, mark.along, across)
        y = _cell(definition, frame.y, mark.value, up)
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


def _sharing(
    knob: Knob, shown: tuple[float, float], lanes: list[set[float]], room: float, needs: float
) -> int:
    """How many values share a place so that neighbours in a lane stand `needs` points apart."""
    assert knob.grid is not None, knob.name
    points = room / (shown[1] - shown[0])
    gaps = [b - a for lane in lanes for a, b in pairwise(sorted(lane))]
    if not gaps or min(gaps) * points >= needs:
        return 1
    return max(1, ceil(needs / (knob.grid.step * points)))


def _cell(definition: Definition, knob: Knob, value: float, every: int) -> float:
    """The middle of the values that share a place with this one."""
    assert knob.grid is not None, knob.name
    low, step = knob.grid.low, knob.grid.step
    everyday = definition.guarded[knob.name].everyday
    border = 0
    if everyday is not None and everyday > low:  # cells do not reach across the everyday ceiling
        border = floor(round((everyday - low) / step, 6)) + 1
    cell = (round((value - low) / step) - border) // every
    return round(low + step * (border + cell * every + (every - 1) / 2), 9)
