"""Where the map lies above a ceiling: lines of the two knobs, regions of all that is guarded."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import groupby
from math import floor

from planner.domain.definition import Definition
from planner.domain.knob import Setting
from planner.gate import above_everyday, past_hard_stop
from planner.report.pictures.ceilings import Limit, told
from planner.report.pictures.map.axis import Axis

_MOST = 4000
"""So many settings are asked about one by one; more are by the cell."""


@dataclass(frozen=True, slots=True)
class Line:
    """A ceiling of one of the knobs: it runs between the last value under it and the next."""

    limit: Limit
    place: float
    shown: str
    """Its value in words."""


@dataclass(frozen=True, slots=True)
class Block:
    """A rectangle of neighbouring cells, its borders as places."""

    left: float
    right: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Regions:
    """What lies above ceilings with the other knobs at the study's values."""

    risky: tuple[Block, ...]
    """Above an everyday ceiling."""
    shut: tuple[Block, ...]
    """Past the last ceiling."""
    guards: tuple[str, ...]
    """Knobs and derived values whose everyday ceilings bound the risky part."""


def lines_of(definition: Definition, axis: Axis) -> tuple[Line, ...]:
    """The knob's own ceilings that lie in what is shown, from below."""
    knob, grid = axis.knob, axis.knob.grid
    if grid is None:
        return ()
    low, high = axis.ends
    lines = []
    for limit, value in told(definition.guarded[knob.name]):
        place = floor(round((value - grid.low) / grid.step, 6)) + 0.5
        if low < place < high:
            lines.append(Line(limit, place, knob.show(value)))
    return tuple(lines)


def regions_of(definition: Definition, x: Axis, y: Axis, base: Setting) -> Regions:
    """The regions, told value by value, or by the highest value of each cell where many."""
    fine = (x.last - x.first + 1) * (y.last - y.first + 1) <= _MOST
    columns, rows = _parts(x, fine), _parts(y, fine)
    guards: dict[str, None] = {}
    above: dict[tuple[int, int], bool] = {}
    past: dict[tuple[int, int], bool] = {}
    for i, (_, _, right) in enumerate(columns):
        for j, (_, _, up) in enumerate(rows):
            setting = {**base, x.knob.name: x.value(right), y.knob.name: y.value(up)}
            names = above_everyday(definition, setting)
            guards.update(dict.fromkeys(names))
            above[i, j] = bool(names)
            past[i, j] = bool(past_hard_stop(definition, setting)) if names else False
    return Regions(
        _blocks(columns, rows, lambda i, j: above[i, j]),
        _blocks(columns, rows, lambda i, j: past[i, j]),
        tuple(guards),
    )


_Part = tuple[float, float, int]
"""Borders, and the index of the value that speaks for it."""


def _parts(axis: Axis, fine: bool) -> list[_Part]:
    if fine and axis.knob.grid is None:
        return [(i - 0.5, i + 0.5, i) for i in range(axis.first, axis.last + 1)]
    if fine:
        end = round(axis.ends[1] + 0.5)  # the last cell may reach past the last value
        return [(i - 0.5, i + 0.5, i) for i in range(axis.first, end)]
    parts = []
    for cell in range(axis.cells):
        start = axis.first + cell * axis.every - 0.5
        parts.append((start, start + axis.every, axis.indexes(cell)[-1]))
    return parts


def _blocks(
    columns: list[_Part], rows: list[_Part], inside: Callable[[int, int], bool]
) -> tuple[Block, ...]:
    """The parts inside, joined along columns and then across equal ones."""
    spans: list[tuple[_Part, tuple[tuple[float, float], ...]]] = [
        (column, tuple(_runs(rows, lambda j, i=i: inside(i, j))))  # type: ignore[misc]
        for i, column in enumerate(columns)
    ]
    blocks = []
    for span, alike in groupby(spans, key=lambda item: item[1]):
        parts = [column for column, _ in alike]
        blocks += [Block(parts[0][0], parts[-1][1], low, high) for low, high in span]
    return tuple(blocks)


def _runs(parts: list[_Part], inside: Callable[[int], bool]) -> Iterable[tuple[float, float]]:
    for held, group in groupby(range(len(parts)), key=inside):
        if held:
            places = list(group)
            yield parts[places[0]][0], parts[places[-1]][1]
