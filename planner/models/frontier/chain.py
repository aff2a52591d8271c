"""Forward and backward along the stations: what all runs together say of the edge at each.

The state at a station is (shape, edge, rise): the shape is the same everywhere, the edge is the
edge before plus `rise x gap` plus a little of its own, and the rise walks as `slopes` tells. With
`l_j` the likelihood of the runs at station `j`, and `T` one such step,

    forward_0 = prior,  forward_{j+1} = T (forward_j l_j),
    backward_last = 1,  backward_j = T' (l_{j+1} backward_{j+1}),

the probability at `j` is proportional to `forward_j l_j backward_j` (the sum-product rule on a
chain: Rabiner, Proc. IEEE 77 (1989) 257, sections III.A and B). Arrays have the axes (m shapes,
n edges, d rises).
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from planner.models.edge_grid import EdgeGrid
from planner.models.frontier.slopes import RISES, change_of_rise, first_rises, roughness
from planner.models.hazard import Array

LEAST = 1e-60
"""Nothing counts for less against the likeliest: where many runs contradict each other, products
of three such terms would else vanish everywhere."""


@dataclass(frozen=True)
class Chain:
    """The steps between stations, with what is believed at the first one."""

    grid: EdgeGrid
    first: Array
    """Weights over shapes and edges at the first station, shape (m, n)."""
    gaps: tuple[float, ...]
    """Distance from each station to the next, in spacings."""
    usual: float
    """Rise per spacing, in steps, with which the frontier would just cross the range."""

    def smoothed(self, likelihoods: Sequence[Array]) -> list[Array]:
        """Weights over shapes, edges and rises at each station; each sums to 1.

        `likelihoods`: of the runs at each station, shape (m, n).
        """
        if not likelihoods:
            return []
        forward = [self.first[:, :, None] * first_rises()]
        for gap, seen in zip(self.gaps, likelihoods, strict=False):
            forward.append(_scaled(self._onward(forward[-1] * seen[:, :, None], gap)))
        found, after = [], np.ones_like(forward[0])
        for place in range(len(forward) - 1, -1, -1):
            seen = likelihoods[place][:, :, None]
            found.append(_normed(forward.pop() * seen * after))
            if place:
                after = _scaled(self._back(after * seen, self.gaps[place - 1]))
        return found[::-1]

    def _onward(self, weights: Array, gap: float) -> Array:
        turned = weights @ change_of_rise(gap)
        moved = np.zeros_like(turned)
        for place, shift in enumerate(self._shifts(gap)):
            _add_shifted(moved[:, :, place], turned[:, :, place], shift)
        return self._spread(moved, gap)

    def _back(self, weights: Array, gap: float) -> Array:
        spread = self._spread(weights, gap)
        count = spread.shape[1]
        found = np.empty_like(spread)
        for place, shift in enumerate(self._shifts(gap)):
            found[:, :, place] = spread[:, np.clip(np.arange(count) + shift, 0, count - 1), place]
        return np.asarray(found @ change_of_rise(gap).T)

    def _shifts(self, gap: float) -> list[int]:
        return [round(rise) for rise in RISES * gap * self.usual / self.grid.cell]

    def _spread(self, weights: Array, gap: float) -> Array:
        """The edge's own little about its walk; symmetric, so it serves both ways."""
        kernel = self._kernel(gap)
        middle = len(kernel) // 2
        total, part = kernel[middle] * weights, np.empty_like(weights)
        for reach, share in enumerate(kernel[middle + 1 : middle + weights.shape[1]], 1):
            np.multiply(weights, share, out=part)
            total[:, reach:] += part[:, :-reach]
            total[:, :-reach] += part[:, reach:]
        return np.asarray(total)

    def _kernel(self, gap: float) -> Array:
        sd = max(roughness(self.usual, self.grid.tolerance, gap) / self.grid.cell, 0.3)
        places = np.arange(-round(3 * sd) - 1, round(3 * sd) + 2)
        kernel = np.exp(-0.5 * (places / sd) ** 2)
        return np.asarray(kernel / kernel.sum())


def _add_shifted(into: Array, weights: Array, shift: int) -> None:
    """Add `weights` moved by `shift` cells; what would leave the grid stays in its last cell."""
    count = weights.shape[1]
    shift = min(max(shift, -count), count)
    if shift >= 0:
        into[:, shift:] += weights[:, : count - shift]
        into[:, -1] += weights[:, count - shift :].sum(axis=1)
    else:
        into[:, :shift] += weights[:, -shift:]
        into[:, 0] += weights[:, :-shift].sum(axis=1)


def _scaled(weights: Array) -> Array:
    return np.asarray(np.maximum(weights / weights.max(), LEAST))


def _normed(weights: Array) -> Array:
    return np.asarray(weights / weights.sum())
