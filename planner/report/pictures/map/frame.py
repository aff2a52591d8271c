"""The frame of the map: scales with the knobs' values, ceilings, and what lies above them."""

from collections.abc import Sequence
from typing import Any

from matplotlib.axes import Axes
from matplotlib.collections import PolyCollection

from planner.domain.knob import Harder
from planner.domain.quantity import format_number
from planner.report.pictures.ceilings import Limit, line_look
from planner.report.pictures.figure import label_above, label_right, rows_outwards, upright
from planner.report.pictures.inks import INK, RISK, SHUT
from planner.report.pictures.map.axis import Axis
from planner.report.pictures.map.data import ROOM, KnobMap
from planner.report.pictures.map.regions import Block, Line
from planner.report.pictures.scales import grid_ticks
from planner.report.pictures.words import short, upright_label, with_unit_of

_RIGHT, _UP = "\N{RIGHTWARDS ARROW}", "\N{RIGHTWARDS ARROW}"
_DOWN = "\N{LEFTWARDS ARROW}"  # the upright label is turned, so it points down
_APART = (46.0, 20.0)
"""Points from one labelled tick to the next, across and up."""
_SMALL_TICKS = 8.0
"""Points below which not every value gets a tick."""


def dress(axes: Axes, picture: KnobMap) -> None:
    """Both knobs with their values: harder to the right, and higher values upward."""
    x, y = picture.x, picture.y
    axes.set_xlim(*(x.ends[::-1] if x.falls else x.ends))
    axes.set_ylim(*y.ends)
    for axis, scale, room, apart in zip(
        (x, y), (axes.xaxis, axes.yaxis), ROOM, _APART, strict=True
    ):
        places = _ticks(axis, int(room / apart))
        scale.set_ticks(places, [_label(axis, place) for place in places])
        if room / (axis.cells * axis.every) >= _SMALL_TICKS:
            scale.set_ticks(range(axis.first, axis.last + 1), minor=True)
    axes.tick_params(labelsize=8.5)
    axes.set_xlabel(f"{with_unit_of(x.knob)}, {_harder(x, f'to the right  {_RIGHT}')}")
    up = f"downward  {_DOWN}" if y.falls else f"upward  {_UP}"
    label = upright_label(y.knob, _harder(y, up))
    axes.set_ylabel(label)
    axes.yaxis.set_label_coords(-0.11 if "\n" in label else -0.125, 0.5)


def _harder(axis: Axis, where: str) -> str:
    return "in no order" if axis.knob.harder is Harder.CHOICE else f"harder {where}"


def _ticks(axis: Axis, most: int) -> Sequence[int]:
    """Indexes of the values that are labelled."""
    grid = axis.knob.grid
    if grid is None:
        return range(axis.first, axis.last + 1, -(-(axis.last - axis.first + 1) // most))
    values = grid_ticks(axis.knob, grid.value(axis.first), grid.value(axis.last), most)
    return [round((value - grid.low) / grid.step) for value in values]


def _label(axis: Axis, index: int) -> str:
    value = axis.value(index)
    return short(value, 12) if isinstance(value, str) else format_number(value)


def ceilings(axes: Axes, picture: KnobMap) -> None:
    """Lines of both knobs' ceilings; above everyday hatched, past the last one grey."""
    _region(axes, picture.regions.shut, color=SHUT, lw=0, zorder=0)
    if picture.regions.risky:
        names = ", ".join(short(name, 18) for name in picture.regions.guards[:2])
        more = " .." if len(picture.regions.guards) > 2 else ""
        label = f"AT YOUR OWN RISK: above everyday {names}{more}"
        _region(
            axes,
            picture.regions.risky,
            fc="none",
            ec=RISK,
            hatch="////",
            lw=0,
            zorder=2,
            label=label,
        )
    low, high = axes.get_xlim()
    places = [(line.place - low) / (high - low) for line in picture.x_lines]
    for row, at in enumerate(rows_outwards(places)):
        line = picture.x_lines[at]
        upright(axes, line.place, row, **line_look(line.limit) | {"zorder": 3})
        label_above(axes, places[at], row, _words(line, " "))
    for line in picture.y_lines:
        axes.axhline(line.place, color=INK, zorder=3, **line_look(line.limit))
    low, high = picture.y.ends
    label_right(
        axes,
        [((line.place - low) / (high - low), _words(line, "\n")) for line in picture.y_lines],
    )


def _region(axes: Axes, blocks: Sequence[Block], **looks: Any) -> None:
    corners = [
        [(b.left, b.low), (b.right, b.low), (b.right, b.high), (b.left, b.high)] for b in blocks
    ]
    if corners:
        axes.add_collection(PolyCollection(corners, **looks), autolim=False)


def _words(line: Line, between: str) -> str:
    if line.limit is Limit.OWN_RISK:
        return f"AT YOUR OWN RISK{between}to {line.shown}"
    return f"{line.limit.value}{between}{line.shown}"
