"""Draws the runs of a frontier: a mark for each ending side by side, with their numbers."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

from matplotlib.axes import Axes

from planner.report.pictures.endings import Ending
from planner.report.pictures.frontier.data import FrontierPicture
from planner.report.pictures.frontier.marks import ROOM, ROW, Mark
from planner.report.pictures.frontier.words import aside_label
from planner.report.pictures.inks import INK, SOFT, THIN_HALO
from planner.report.pictures.shapes import RUNS

_SIZE, _CROWDED = 0.88, 0.7
"""Of a mark, against the table of shapes; and by how much it shrinks where marks are shared."""
_ASIDE = 0.6
"""By how much marks shrink that stand beside other values of the other knobs."""
_MARK, _GAP, _LETTER, _NUMBER = 6.4, 1.4, 4.0, 6.5
"""Points: across a mark, beside it, of a digit, and height of the digits."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A mark with how far right of its place it stands, in points."""

    mark: Mark
    shift: float
    numbered: bool


def placed(picture: FrontierPicture) -> tuple[Placed, ...]:
    """The marks side by side; numbers are left out where they would run into a neighbour."""
    marks = picture.marks.here
    columns: dict[float, list[float]] = {}
    for mark in marks:
        columns.setdefault(mark.along, []).append(mark.value)
    points_x = ROOM[0] / (picture.x_shown[1] - picture.x_shown[0])
    points_y = ROOM[1] / (picture.y_shown[1] - picture.y_shown[0])
    found: list[Placed] = []
    for (x, y), row in groupby(marks, key=lambda mark: (mark.along, mark.value)):
        near = [
            (other - x) * points_x
            for other, ys in columns.items()
            if other > x and any(abs(value - y) * points_y < ROW - 0.1 for value in ys)
        ]
        found += _row(list(row), min(near, default=ROOM[0]) - _MARK)
    return tuple(found)


def _row(marks: list[Mark], room: float) -> Iterator[Placed]:
    """The marks of one place, the first on it and the others to the right, within `room`."""
    widths = [_MARK + _GAP + _LETTER * len(_number(mark)) for mark in marks]
    numbered = sum(widths) - _MARK / 2 <= room
    if not numbered:
        closer = max(room - _MARK / 2, 0.0) / len(marks)
        widths = [min(_MARK + _GAP, closer)] * len(marks)
    shift = 0.0
    for mark, width in zip(marks, widths, strict=True):
        yield Placed(mark, shift, numbered and mark.count > 1)
        shift += width


def _number(mark: Mark) -> str:
    return str(mark.count) if mark.count > 1 else ""


def runs(axes: Axes, picture: FrontierPicture, marks: tuple[Placed, ...]) -> None:
    """Every mark in its ending's shape; small and pale where another knob stood elsewhere."""
    point = (picture.x_shown[1] - picture.x_shown[0]) / ROOM[0]
    for aside in (True, False):
        for ending in Ending:
            alike = [p for p in marks if p.mark.ending is ending and p.mark.aside is aside]
            if alike:
                _draw(axes, alike, point, picture.marks.crowded)
    if picture.marks.aside:
        label = aside_label(picture)
        axes.plot([], [], ls="", marker="o", ms=4, mfc="white", mec=SOFT, mew=0.6, label=label)
    for one in marks:
        if one.numbered:
            axes.text(
                one.mark.along + (one.shift + _MARK / 2 + 0.6) * point,
                one.mark.value,
                _number(one.mark),
                va="center_baseline",
                size=_NUMBER,
                color=SOFT if one.mark.aside else INK,
                path_effects=THIN_HALO,
                zorder=5.5,
            )


def _draw(axes: Axes, marks: list[Placed], point: float, crowded: bool) -> None:
    """Marks of one ending, all of them aside or none."""
    ending, aside = marks[0].mark.ending, marks[0].mark.aside
    shape = RUNS[ending]
    total = sum(one.mark.count for one in marks)
    axes.plot(
        [one.mark.along + one.shift * point for one in marks],
        [one.mark.value for one in marks],
        ls="",
        marker=shape.marker,
        ms=shape.points * _SIZE * (_ASIDE if aside else 1) * (_CROWDED if crowded else 1),
        mfc="white" if aside else shape.fill,
        mec=SOFT if aside else shape.outline,
        mew=0.6 if aside or crowded else 1.0,
        label="" if aside else f"{ending.value} ({total})",
        zorder=4.6 if aside else 5,
    )
