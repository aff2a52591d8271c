"""Where words stand in the picture without covering what is drawn."""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt

_GRID = 8.0
"""Points from one place that is weighed to the next."""
_PAD = 5.0
"""Points that words keep from what is drawn, where they can."""
_COVERED, _CROSSED = 40.0, 12.0
"""Points of distance that words go rather than cover, or have a line cross, one thing more."""
_MOST = 14
"""More covered things than this are as bad as this: then words had better stand near."""
_WEIGHED = 200
"""So many of the best boxes are weighed by what the line to them crosses."""
_AT_TARGET, _BESIDE = 11.0, 4.0
"""Points around the target that a line may cross, and beside it that it takes."""

Array = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle in points from the lower left corner of the panel."""

    left: float
    low: float
    width: float
    height: float

    def nearest(self, x: float, y: float) -> tuple[float, float]:
        """The place in it that is nearest to another one."""
        right, high = self.left + self.width, self.low + self.height
        return min(max(x, self.left), right), min(max(y, self.low), high)

    def dots(self) -> Array:
        """Places that stand for it, shape (n, 2)."""
        across = np.arange(self.left, self.left + self.width + _GRID, _GRID)
        up = np.arange(self.low, self.low + self.height + _GRID, _GRID)
        return np.stack(np.meshgrid(across, up), axis=-1).reshape(-1, 2)


def free_box(
    size: tuple[float, float],
    room: tuple[float, float],
    taken: Array,
    near: tuple[float, float],
    target: tuple[float, float] | None = None,
) -> Box:
    """The box of that size that covers little and stands near a place; all in points.

    `taken`: places that should stay clear, shape (n, 2). `target`: what a line leads to from the
    box; that should cover little too.
    """
    width, height = size
    lefts = np.arange(_PAD, max(room[0] - width - _PAD, _PAD) + 1, _GRID)
    lows = np.arange(_PAD, max(room[1] - height - _PAD, _PAD) + 1, _GRID)
    left, low = (grid.ravel() for grid in np.meshgrid(lefts, lows))
    x, y = taken[:, 0], taken[:, 1]
    inside = (x > left[:, None] - _PAD) & (x < left[:, None] + width + _PAD)
    inside &= (y > low[:, None] - _PAD) & (y < low[:, None] + height + _PAD)
    cost = _COVERED * np.minimum(inside.sum(axis=1), _MOST)
    cost += np.hypot(left + width / 2 - near[0], low + height / 2 - near[1])
    if target is not None:
        few = np.argsort(np.round(cost, 6), kind="stable")[:_WEIGHED]
        left, low, cost = left[few], low[few], cost[few]
        across = np.clip(target[0], left, left + width)
        starts = np.stack([across, np.clip(target[1], low, low + height)], axis=1)
        cost += _CROSSED * _crossed(starts, np.array(target), taken)
    best = int(np.argmin(np.round(cost, 6)))
    return Box(float(left[best]), float(low[best]), width, height)


def _crossed(starts: Array, target: Array, taken: Array) -> Array:
    """How many places lie on the way from each start to the target, shape (n,)."""
    far = taken[np.hypot(*(taken - target).T) > _AT_TARGET]
    way = starts - target
    length = np.maximum((way**2).sum(axis=1), 1e-9)
    share = np.clip((far - target) @ way.T / length, 0, 1)  # shape (places, n)
    gap = far[:, None, :] - target - share[:, :, None] * way
    near = np.hypot(gap[..., 0], gap[..., 1]) < _BESIDE
    return np.asarray(np.minimum(near.sum(axis=0), _MOST))


def along_line(places: Array, apart: float = 4.0) -> Array:
    """Places at most so many points apart along a line through `places`, shape (n, 2)."""
    parts = [places]
    for start, end in pairwise(places):
        steps = max(2, int(np.hypot(*(end - start)) / apart))
        parts.append(start + (end - start) * np.linspace(0, 1, steps)[:, None])
    return np.concatenate(parts)
