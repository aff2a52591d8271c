"""The marks of the runs side by side, and which of them have room for their number."""

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from planner.report.pictures.frontier.marks import ROW, SMALL, Mark, Marks
from planner.report.pictures.frontier.panel import Panel

MARK, LETTER = 6.4, 4.0
"""Points across a mark and across a digit."""
_GAP = 1.4
"""Points beside a mark."""
_ENOUGH = 0.3
"""Where numbers have room at fewer of the places that need them, none is written."""


_Columns = Sequence[tuple[float, Sequence[float]]]
"""Values of the second knob with those of the searched one that have a mark there, both rising."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A mark with how far right of its place it stands, in points."""

    mark: Mark
    shift: float
    numbered: bool
    """Whether its number is written; one run has none."""


def placed(marks: Marks, panel: Panel, end: float) -> tuple[Placed, ...]:
    """The marks side by side; numbers are left out where they would run into a neighbour.

    `end`: value of the second knob past which nothing is drawn.
    """
    heights: dict[float, set[float]] = {}
    for mark in marks.here:
        heights.setdefault(mark.along, set()).add(mark.value)
    columns = [(along, sorted(heights[along])) for along in sorted(heights)]
    rows = [list(row) for _, row in groupby(marks.here, key=lambda m: (m.along, m.value))]
    rooms = [_room(row[0], columns, panel, end) for row in rows]
    several = [any(mark.count > 1 for mark in row) for row in rows]
    fits = [_fits(row, room, marks.crowded) for row, room in zip(rows, rooms, strict=True)]
    fitting = sum(fit for fit, needs in zip(fits, several, strict=True) if needs)
    enough = fitting >= _ENOUGH * sum(several)
    return tuple(
        one
        for row, room, fit in zip(rows, rooms, fits, strict=True)
        for one in _row(row, room, fit and enough, marks.crowded)
    )


def _room(mark: Mark, columns: _Columns, panel: Panel, end: float) -> float:
    """Points from a mark to the next one right of it at about its height, or to the end."""
    across, up = panel.scale
    reach = (ROW - 0.1) / up
    near = (
        other - mark.along
        for other, values in columns
        if other > mark.along and _any_within(values, mark.value - reach, mark.value + reach)
    )
    return across * max(next(near, end - mark.along), 0.0)


def _any_within(values: Sequence[float], low: float, high: float) -> bool:
    """Whether one of the sorted values lies between, the ends left out."""
    at = bisect_right(values, low)
    return at < len(values) and values[at] < high


def _fits(row: list[Mark], room: float, crowded: bool) -> bool:
    size = SMALL if crowded else MARK
    return sum(size + _GAP + LETTER * len(number(mark)) for mark in row) <= room


def _row(row: list[Mark], room: float, numbered: bool, crowded: bool) -> Iterator[Placed]:
    """The marks of one place, the first on it and the others to the right, within `room`.

    At the end, where there is next to none, to the left.
    """
    size, shift = SMALL if crowded else MARK, 0.0
    apart, way = (size + _GAP, -1) if room < size else (min(size + _GAP, room / len(row)), 1)
    for mark in row:
        yield Placed(mark, shift, numbered and mark.count > 1)
        digits = LETTER * len(number(mark))
        shift += size + _GAP + digits if numbered else way * apart


def number(mark: Mark) -> str:
    """How many runs a mark stands for; nothing for one."""
    return str(mark.count) if mark.count > 1 else ""
