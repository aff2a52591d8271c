"""The picture of all edges, put together: a row for each knob, harder to the right."""

from typing import Any

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from planner.domain.knob import Harder
from planner.report.pictures.ceilings import Limit, line_look
from planner.report.pictures.edge.joint.data import JointEdges, Row
from planner.report.pictures.edge.joint.words import (
    chance_words,
    conditions,
    range_words,
    span_words,
    verdict,
)
from planner.report.pictures.endings import Ending
from planner.report.pictures.figure import finish, look, new_figure
from planner.report.pictures.inks import CURVE, INK, RISK, RULE, SHUT, SOFT
from planner.report.pictures.shapes import RUNS
from planner.report.pictures.words import short

_WIDTH, _LEFT, _RIGHT, _ROW = 8.0, 1.55, 1.75, 0.66
"""Inches: of the figure, left free at the sides, of one row."""
_HELD, _FAILED = 0.26, -0.26
"""Heights above a row's middle, on a scale of rows."""
_BEYOND = 0.03
"""Share of the range by which what lies beyond it stands outside."""
_KEPT: dict[str, Any] = {"marker": "s", "ls": "", "mfc": "none", "mec": CURVE, "ms": 8, "mew": 2}
_PALE = 0.62
"""By how much marks shrink: they stand beside other values of the other knobs."""


def joint_figure(picture: JointEdges) -> Figure:
    """Edges, values to keep, what held and what failed."""
    count = max(len(picture.rows), 1)
    with look():
        figure = new_figure(_WIDTH, _ROW * count)
        share = (_WIDTH - _LEFT - _RIGHT) / _WIDTH
        axes = figure.add_axes((_LEFT / _WIDTH, 0.0, share, 1.0))
        _dress(axes, picture)
        for at, row in enumerate(picture.rows):
            _bounds(axes, row, -at)
            _runs(axes, row, -at)
            _edge(axes, row, -at)
        _legend(axes, picture)
        finish(figure, verdict(picture), conditions(picture))
    return figure


def _dress(axes: Axes, picture: JointEdges) -> None:
    axes.set_xlim(-2 * _BEYOND, 1 + 2 * _BEYOND)
    axes.set_ylim(0.5 - max(len(picture.rows), 1), 0.5)
    places = [-at for at in range(len(picture.rows))]
    axes.set_yticks(places, [_name(row) for row in picture.rows])
    axes.tick_params(axis="y", length=0, labelsize=8.5)
    axes.set_xticks([0, 1], ["easiest in range", "hardest in range"])
    axes.set_xlabel("harder to the right  \N{RIGHTWARDS ARROW}", labelpad=-8)
    for at in places:
        axes.axhline(at, color=RULE, lw=0.6, zorder=0)
        axes.axhline(at - 0.5, color=SOFT, lw=0.5, zorder=0)
    for end in (0.0, 1.0):
        axes.axvline(end, color=RULE, lw=0.6, zorder=0)
    for at, row in zip(places, picture.rows, strict=True):
        axes.annotate(
            f"{range_words(row)}\n{'keep' if picture.holds else 'at'} {row.knob.show(row.kept)}",
            (1 + 2 * _BEYOND, at),
            xytext=(6, 0),
            textcoords="offset points",
            va="center",
            size=7.5,
            linespacing=1.2,
            annotation_clip=False,
        )


def _name(row: Row) -> str:
    return f"{short(row.knob.name, 18)}\n{span_words(row.knob)}"


def _bounds(axes: Axes, row: Row, at: float) -> None:
    """Ceilings inside the range; above everyday hatched, past the last in grey."""
    found = {bound.limit: row.across(bound.value) for bound in row.bounds}
    low, high = at - 0.5, at + 0.5
    last = found.get(Limit.HARD_STOP, found.get(Limit.OWN_RISK, found.get(Limit.EVERYDAY, 2.0)))
    up = row.knob.harder is Harder.UP  # of others a ceiling bounds the easy side
    if last < 1 and up:
        axes.fill_between([last, 1 + 2 * _BEYOND], low, high, color=SHUT, lw=0, zorder=0)
    everyday = found.get(Limit.EVERYDAY, 2.0)
    if everyday < min(last, 1.0) and up:
        ends = [everyday, min(last, 1 + 2 * _BEYOND)]
        axes.fill_between(ends, low, high, fc="none", ec=RISK, hatch="////", lw=0, zorder=0.5)
    for limit, place in found.items():
        if 0 <= place <= 1:
            axes.plot([place] * 2, [low, high], color=INK, zorder=1, **line_look(limit))


def _runs(axes: Axes, row: Row, at: float) -> None:
    for values, ending, height in (
        (row.held, Ending.PASSED, _HELD),
        (row.failed, Ending.CRASH, _FAILED),
    ):
        shape = RUNS[ending]
        axes.plot(
            [row.across(value) for value in values],
            [at + height] * len(values),
            ls="",
            marker=shape.marker,
            ms=_PALE * shape.points,
            mfc="white",
            mec=shape.outline if ending is Ending.PASSED else SOFT,
            mew=0.8,
            zorder=3,
        )


def _edge(axes: Axes, row: Row, at: float) -> None:
    """The interval as a bracket with its median, and the value to keep."""
    ends = [min(max(row.across(v), -_BEYOND), 1 + _BEYOND) for v in row.edge.interval]
    middle = min(max(row.across(row.edge.value), -_BEYOND), 1 + _BEYOND)
    axes.errorbar(
        [middle],
        [at],
        xerr=[[middle - min(ends)], [max(ends) - middle]],
        fmt="d",
        color=INK,
        ms=6,
        capsize=5,
        lw=1.6,
        zorder=4,
    )
    axes.plot([row.across(row.kept)], [at], zorder=5, **_KEPT)


def _legend(axes: Axes, picture: JointEdges) -> None:
    """Drawn once for all rows."""
    passed, failed = RUNS[Ending.PASSED], RUNS[Ending.CRASH]
    given: tuple[tuple[str, dict[str, Any]], ...] = (
        (chance_words(picture), {"marker": "d", "color": INK, "lw": 1.6, "ms": 6}),
        ("value to keep", _KEPT),
        (
            "a run held there",
            {"marker": passed.marker, "ls": "", "mfc": "white", "mec": passed.outline, "ms": 4.5},
        ),
        (
            "a run failed there",
            {"marker": failed.marker, "ls": "", "mfc": "white", "mec": SOFT, "ms": 4.5},
        ),
    )
    for label, looks in given:
        axes.plot([], [], label=label, **looks)
    if any(_in_range(row, Limit.EVERYDAY) for row in picture.rows):
        axes.plot([], [], label="ceilings", color=INK, **line_look(Limit.EVERYDAY))


def _in_range(row: Row, limit: Limit) -> bool:
    return any(b.limit is limit and 0 <= row.across(b.value) <= 1 for b in row.bounds)
