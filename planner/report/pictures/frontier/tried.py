"""Draws the runs of a frontier: a mark for each ending, with the number of its runs."""

from matplotlib.axes import Axes

from planner.report.pictures.endings import Ending
from planner.report.pictures.frontier.data import FrontierPicture
from planner.report.pictures.frontier.placing import MARK, Placed, number
from planner.report.pictures.frontier.words import aside_label
from planner.report.pictures.inks import INK, SOFT, THIN_HALO
from planner.report.pictures.shapes import RUNS

_SIZE, _CROWDED = 0.88, 0.7
"""Of a mark, against the table of shapes; and by how much it shrinks where marks are shared."""
_ASIDE = 0.6
"""By how much marks shrink that stand beside other values of the other knobs."""
_NUMBER = 6.5
"""Points of a number."""
_OUTLINED, _DRAWN = 150, 1500
"""More numbers than this have no outline, and more marks become one image: an SVG stays small."""


def runs(axes: Axes, picture: FrontierPicture) -> None:
    """Every mark in its ending's shape; small and pale where another knob stood elsewhere."""
    for aside in (True, False):
        for ending in Ending:
            alike = [p for p in picture.placed if p.mark.ending is ending and p.mark.aside is aside]
            if alike:
                _draw(axes, picture, alike)
    if picture.marks.aside:
        label = aside_label(picture)
        axes.plot([], [], ls="", marker="o", ms=4, mfc="white", mec=SOFT, mew=0.6, label=label)
    _numbers(axes, picture)


def _draw(axes: Axes, picture: FrontierPicture, marks: list[Placed]) -> None:
    """Marks of one ending, all of them aside or none."""
    ending, aside, crowded = marks[0].mark.ending, marks[0].mark.aside, picture.marks.crowded
    shape, point = RUNS[ending], 1 / picture.panel.scale[0]
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
        rasterized=len(picture.placed) > _DRAWN,
    )


def _numbers(axes: Axes, picture: FrontierPicture) -> None:
    point = 1 / picture.panel.scale[0]
    numbered = [one for one in picture.placed if one.numbered]
    outline = THIN_HALO if len(numbered) <= _OUTLINED else None
    for one in numbered:
        axes.text(
            one.mark.along + (one.shift + MARK / 2 + 0.6) * point,
            one.mark.value,
            number(one.mark),
            va="center_baseline",
            size=_NUMBER,
            color=SOFT if one.mark.aside else INK,
            path_effects=outline,
            zorder=5.5,
        )
