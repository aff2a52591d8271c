"""What the frontier picture draws into its frame: the edge, the values to keep, proposals."""

from collections.abc import Iterator
from itertools import groupby, pairwise
from typing import Any

from matplotlib.axes import Axes

from planner.domain.grid import Grid
from planner.models.frontier.findings import FrontierPoint
from planner.report.pictures.frontier.data import FrontierPicture
from planner.report.pictures.frontier.words import asked_label
from planner.report.pictures.inks import CURVE, INK

_FULL, _LIGHT = 0.24, 0.1
"""How dense the band is where runs are asked for, and where they are not."""
_UP, _DOWN = 6, 7  # matplotlib's carets whose tips lie on the place

_Part = tuple[bool, list[FrontierPoint]]


def band(axes: Axes, picture: FrontierPicture) -> None:
    """The edge's band with its median, lighter where no run is made or asked for."""
    label = f"its {picture.level:.0%} band"
    for told, points in _parts(picture.points):
        xs = [point.along for point in points]
        low, high = ([point.interval[end] for point in points] for end in (0, 1))
        looks: dict[str, Any] = {"color": CURVE, "alpha": _FULL if told else _LIGHT}
        if len(points) == 1:
            axes.vlines(xs, low, high, lw=6, zorder=1.5, label=label, **looks)
        else:
            axes.fill_between(xs, low, high, lw=0, zorder=1.5, label=label, **looks)
        axes.plot(xs, [point.edge for point in points], color=CURVE, zorder=2, **_line(told))
        label = ""


def _line(told: bool) -> dict[str, Any]:
    return {"ls": "-", "lw": 2.0} if told else {"ls": (0, (3, 1.5)), "lw": 1.2}


def is_told(point: FrontierPoint) -> bool:
    """Whether runs speak of a station, or may yet; else it is what the neighbours tell."""
    return point.asked or point.runs > 0


def _parts(points: tuple[FrontierPoint, ...]) -> Iterator[_Part]:
    """Stretches of stations, full between two that are told; neighbours share an end."""
    if len(points) == 1:
        yield is_told(points[0]), list(points)
    pairs = groupby(pairwise(points), key=lambda pair: is_told(pair[0]) and is_told(pair[1]))
    for told, steps in pairs:
        ends = list(steps)
        yield told, [ends[0][0], *(after for _, after in ends)]


def stations(axes: Axes, picture: FrontierPicture) -> None:
    """Each station's median as a dot, or as a tip at the border that it lies beyond."""
    grid = picture.knob.grid
    assert grid is not None, picture.knob.name
    label = "edge beyond the range"
    for told in (True, False):
        points = [point for point in picture.points if is_told(point) is told]
        looks: dict[str, Any] = {"color": CURVE, "mec": CURVE, "mfc": CURVE if told else "white"}
        if points:  # in the legend with the line that goes through it
            name = "edge" if told else "lighter: no run made or asked for"
            axes.plot([], [], marker="o", ms=4, label=name, **_line(told), **looks)
        inside = [(p.along, p.edge) for p in _thinned(picture, points) if _in_range(grid, p)]
        _dots(axes, inside, marker="o", ms=4, zorder=3.2, **looks)
        for marker, border, beyond in (
            (_UP, 1.0, [p.along for p in points if p.edge > grid.high]),
            (_DOWN, 0.0, [p.along for p in points if p.edge < grid.low]),
        ):
            if beyond:
                looks |= {"transform": axes.get_xaxis_transform(), "zorder": 3.2}
                at = [border] * len(beyond)
                axes.plot(beyond, at, ls="", marker=marker, ms=7, label=label, **looks)
                label = ""


def _in_range(grid: Grid, point: FrontierPoint) -> bool:
    return grid.low <= point.edge <= grid.high


def _thinned(picture: FrontierPicture, points: list[FrontierPoint]) -> list[FrontierPoint]:
    """Without the stations of own runs where so many stand that runs share marks."""
    return [p for p in points if p.asked or not p.runs] if picture.marks.crowded else points


def _dots(axes: Axes, places: list[tuple[float, float]], **looks: Any) -> None:
    if places:
        axes.plot([x for x, _ in places], [y for _, y in places], ls="", **looks)


def kept(axes: Axes, picture: FrontierPicture) -> None:
    """The value to keep at each station as an open square, the point to keep as a heavy one."""
    if not picture.runs:
        return
    keep = picture.keep
    places = [
        (point.along, point.kept)
        for point in _thinned(picture, list(picture.points))
        if point.kept is not None and (keep is None or point.along != keep.along)
    ]
    _dots(axes, places, marker="s", ms=10, mfc="none", mec=INK, zorder=3.6, label="to keep there")
    if keep is not None:
        place = [(keep.along, keep.value)]
        _dots(axes, place, marker="s", ms=12, mfc="none", mec=INK, mew=2.2, zorder=3.7)


def asked(axes: Axes, picture: FrontierPicture) -> None:
    """Proposals without an answer as open stars."""
    for one in picture.asked:
        place = [(one.along, one.value)]
        label = asked_label(one)
        _dots(axes, place, marker="*", ms=12, mfc="white", mec=INK, mew=1.2, zorder=6, label=label)
