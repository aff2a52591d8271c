"""Words inside the picture: the point to keep, and on which side of the line runs hold."""

import numpy as np
from matplotlib.axes import Axes

from planner.domain.knob import Harder
from planner.report.pictures.frontier.data import FrontierPicture, Keep
from planner.report.pictures.frontier.panel import ROOM
from planner.report.pictures.frontier.places import Array, Box, along_line, free_box
from planner.report.pictures.frontier.words import keep_label, side
from planner.report.pictures.inks import INK, SOFT

_LETTER, _LINE = 0.56, 1.28
"""Width of a letter and height of a line, in sizes of the words."""
_KEEP, _SIDE = 8.5, 8.0
"""Sizes in points."""
_THIN = 3.0
"""Places closer than so many points count as one."""
_HALF = 6.0
"""Points from the middle of a square to its sides."""
_PLATE = {"fc": "white", "ec": "none", "alpha": 0.85, "pad": 1.0}
"""Under words, so that they can be read on lines, marks and hatching."""
_NEAR, _OFF = 44.0, 46.0
"""Points from the point to keep, and from the line, to where the words are sought."""


def notes(axes: Axes, picture: FrontierPicture) -> None:
    """Both, each where it covers least."""
    taken, (low, high) = _taken(picture), picture.panel.y_shown
    if picture.keep is not None:
        box = _keep(axes, picture, picture.keep, taken)
        taken = np.concatenate([taken, box.dots()])
    if not any(low <= point.edge <= high for point in picture.points):
        return  # there is no line to stand beside
    words = side(picture)
    box = free_box(_size(words, _SIDE), ROOM, taken, _beside_line(picture))
    _write(axes, box, words, size=_SIDE, color=SOFT, style="italic")


def _keep(axes: Axes, picture: FrontierPicture, keep: Keep, taken: Array) -> Box:
    words = keep_label(picture, keep)
    x, y = _points(picture, [(keep.along, keep.value)])[0]
    size = _size(words, _KEEP)
    box = free_box(size, ROOM, taken, (x, y + _holds(picture) * _NEAR), (x, y))
    _write(axes, box, words, size=_KEEP, color=INK)
    at = box.nearest(x, y)
    dx, dy = x - at[0], y - at[1]
    if (length := float(np.hypot(dx, dy))) > 14:
        end = (x - dx * 9 / length, y - dy * 9 / length)  # short of the square's frame
        places = [_share(place) for place in (at, end)]
        axes.plot(
            *zip(*places, strict=True), transform=axes.transAxes, color=INK, lw=0.9, zorder=5.2
        )
    return box


def _write(axes: Axes, box: Box, words: str, **looks: object) -> None:
    across, up = _share((box.left + box.width / 2, box.low + box.height / 2))
    axes.text(
        across,
        up,
        words,
        transform=axes.transAxes,
        ha="center",
        va="center",
        linespacing=1.15,
        bbox=_PLATE,
        zorder=6.5,
        **looks,  # type: ignore[arg-type]
    )


def _size(words: str, points: float) -> tuple[float, float]:
    lines = words.split("\n")
    return _LETTER * points * max(map(len, lines)), _LINE * points * len(lines)


def _share(place: tuple[float, float]) -> tuple[float, float]:
    return place[0] / ROOM[0], place[1] / ROOM[1]


def _points(picture: FrontierPicture, places: list[tuple[float, float]]) -> Array:
    """Values as points from the lower left corner, shape (n, 2)."""
    return np.asarray([picture.panel.share(*place) for place in places] * np.array(ROOM))


def _taken(picture: FrontierPicture) -> Array:
    """Everything that words should leave clear."""
    taken = along_line(_points(picture, [(p.along, p.edge) for p in picture.points]))
    squares = [(p.along, p.kept) for p in picture.points if p.kept is not None]
    squares += [(asked.along, asked.value) for asked in picture.asked]
    found = [taken]
    if squares:
        corners = np.array([(0, 0), (1, 1), (1, -1), (-1, 1), (-1, -1)]) * _HALF
        found += [_points(picture, squares) + corner for corner in corners]
    if picture.placed:
        at = _points(picture, [(one.mark.along, one.mark.value) for one in picture.placed])
        at += np.array([[one.shift, 0.0] for one in picture.placed])
        numbers = [one.numbered for one in picture.placed]
        found += [at, at[numbers] + np.array([8.0, 0.0])]
    return np.unique(np.round(np.concatenate(found) / _THIN) * _THIN, axis=0)


def _beside_line(picture: FrontierPicture) -> tuple[float, float]:
    """Off the middle of the line, on the side where runs hold."""
    middle = picture.points[len(picture.points) // 2]
    x, y = _points(picture, [(middle.along, middle.edge)])[0]
    return float(x), float(y) + _holds(picture) * _OFF


def _holds(picture: FrontierPicture) -> int:
    """Which way from the line runs hold: 1 up, -1 down."""
    return 1 if picture.knob.harder is Harder.DOWN else -1
