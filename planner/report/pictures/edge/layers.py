"""What the edge picture draws into its frame: the curve, the runs, the edge, the best value."""

from itertools import pairwise

import numpy as np
from matplotlib.axes import Axes

from planner.report.pictures.edge.axes import EDGE_LANE, LANES
from planner.report.pictures.edge.data import EdgePicture, Kind, Mark
from planner.report.pictures.edge.words import best_label
from planner.report.pictures.endings import Ending
from planner.report.pictures.figure import size_points
from planner.report.pictures.inks import CURVE, HALO, INK
from planner.report.pictures.shapes import RUNS

_SHAPES = {
    Kind.PASSED: RUNS[Ending.PASSED],
    Kind.STOPPED: RUNS[Ending.SHORT],
    Kind.FAILED: RUNS[Ending.CRASH],
    Kind.ERRORS: RUNS[Ending.ERRORS],
}
_COUNT_SIZE = 7.5
_LABEL_SHARE = 0.24
"""Width of the best value's label, as a share of the axes."""
_CROWDED = 0.5
"""By how much marks shrink that stand so close that their counts would run into each other."""


def curve(axes: Axes, picture: EdgePicture) -> None:
    """The chance to pass, with its band."""
    found = picture.curve
    values = [picture.knob.at_hardness(float(h)) for h in found.hardness]
    name = f"its {found.level:.0%} band"
    axes.plot(values, found.mean, color=CURVE, lw=2.0, label="chance to pass")
    axes.fill_between(values, found.low, found.high, color=CURVE, alpha=0.22, lw=0, label=name)


def runs(axes: Axes, picture: EdgePicture) -> None:
    """Runs as marks in two lanes, with their number where there are several."""
    for kind, shape in _SHAPES.items():
        marks = [mark for mark in picture.marks if mark.kind is kind]
        if not marks:
            continue
        crowded = _crowded(axes, picture, marks)
        axes.plot(
            [mark.value for mark in marks],
            [LANES[kind]] * len(marks),
            ls="",
            marker=shape.marker,
            ms=shape.points * (_CROWDED if crowded else 1),
            mfc=shape.fill,
            mec=shape.outline,
            mew=0.6 if crowded else 1.1,
            label=kind.value,
            zorder=4,
        )
        if not crowded:
            _counts(axes, [mark for mark in marks if mark.count > 1])


def _crowded(axes: Axes, picture: EdgePicture, marks: list[Mark]) -> bool:
    """Whether a mark stands closer to its neighbour than its count is wide."""
    points, _ = size_points(axes)
    digit = 0.65 * _COUNT_SIZE
    return any(
        points * (picture.across(right.value) - picture.across(left.value))
        < digit * max(len(str(left.count)), len(str(right.count)))
        for left, right in pairwise(marks)
    )


def _counts(axes: Axes, marks: list[Mark]) -> None:
    for mark in marks:
        above = mark.kind.held
        axes.annotate(
            str(mark.count),
            (mark.value, LANES[mark.kind]),
            xytext=(0, 5 if above else -5),
            textcoords="offset points",
            ha="center",
            va="bottom" if above else "top",
            size=_COUNT_SIZE,
            path_effects=HALO,
            zorder=5,
        )


def edge(axes: Axes, picture: EdgePicture) -> None:
    """The edge's interval as a bracket with its median, in a lane of its own."""
    low, high = picture.interval
    axes.errorbar(
        [picture.edge],
        [EDGE_LANE],
        xerr=[[picture.edge - low], [high - picture.edge]],
        fmt="d",
        color=INK,
        ms=6,
        capsize=5,
        lw=1.6,
        label=f"edge, {picture.curve.level:.0%} interval",
        zorder=4,
    )


def best(axes: Axes, picture: EdgePicture) -> None:
    """The best value, marked on the curve; nothing before the first run."""
    if picture.best is None or picture.speaking == 0:
        return
    chance = picture.recommendation.pass_probability
    axes.plot([picture.best] * 2, [0, chance], color=INK, lw=1.2, zorder=3)
    axes.plot(
        [picture.best],
        [chance],
        ls="",
        marker="s",
        ms=8,
        mfc="white",
        mec=INK,
        mew=1.8,
        label="best value",
        zorder=5,
    )
    left, height = _label_place(picture, picture.best)
    axes.annotate(
        best_label(picture),
        (picture.best, height),
        xytext=(-8 if left else 8, 0),
        textcoords="offset points",
        ha="right" if left else "left",
        va="center",
        path_effects=HALO,
        zorder=6,
    )


def _label_place(picture: EdgePicture, value: float) -> tuple[bool, float]:
    """Whether the label stands left of the best value, and its height, off the curve.

    Left of it, and right of it where the curve stays high, there is room below the curve; where
    the curve has fallen, above it.
    """
    if picture.across(value) > _LABEL_SHARE:
        return True, 0.36
    low, high = picture.shown
    end = picture.knob.hardness(value) + _LABEL_SHARE * (high - low)
    there = float(np.interp(end, picture.curve.hardness, picture.curve.mean))
    return False, 0.36 if there > 0.55 else 0.75
