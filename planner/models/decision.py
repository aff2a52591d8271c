"""Which value to recommend, and what the next run is worth: losses, not information.

Recommending a value costs 3 if it is unsound (a nominal run passes with less than the target).
If it is sound but `d` tolerances below the hardest sound value, it costs

    0.15 min(d, 1) + 2 log2(1 + max(d - 1, 0)):

the last step is seldom worth its runs, the next ones are, and far from the edge halving the
distance is what counts, as in bisection (a loss in proportion to the distance would first of
all probe the hard end, and crash). Where a step is much of the range, the first one costs more.
"""

from dataclasses import dataclass

import numpy as np

from planner.models.edge_grid import EdgeGrid
from planner.models.hazard import Array

UNSOUND = 3.0
"""Loss of an unsound value."""
FINE_UNSOUND = 2.0
"""The same on steps so fine that one too far still nearly holds."""
FIRST_TOLERANCE = 0.15
"""Loss of lying one tolerance low, in a range of a dozen or more."""
EACH_TOLERANCE = 2.0
"""Loss of each doubling of the distance beyond it."""
_COARSE = 16.0
"""Where a tolerance is a share `p` of the range, its loss is `p`^2 times this: a step of five
values is a fifth of all there is to gain."""
NONE = -1
"""Index of the recommendation that no value holds."""


@dataclass(frozen=True)
class Decision:
    """The recommendation that costs least in expectation."""

    index: int
    """Among the levels given, or NONE."""
    loss: float
    """Its expected loss."""


def loss_table(grid: EdgeGrid, levels: Array) -> Array:
    """Loss of recommending each level, and last of recommending none, for each edge.

    `levels`: hardness of the values that may be recommended, ascending, in steps, shape (r,);
    gives shape (r + 1, n).
    """
    best = np.searchsorted(levels, grid.edges, side="right") - 1  # (n,)
    reach = np.where(best >= 0, levels[np.maximum(best, 0)], np.nan)
    below = (reach[None, :] - levels[:, None]) / grid.tolerance  # (r, n)
    sound = levels[:, None] <= grid.edges[None, :]
    table = np.where(sound, _shortfall(below, first_tolerance(grid)), unsound(grid))
    return np.vstack([table, np.where(best >= 0, unsound(grid), 0.0)])


def unsound(grid: EdgeGrid) -> float:
    """Loss of recommending a value that passes with less than the target."""
    return FINE_UNSOUND if grid.tolerance > 1 else UNSOUND


def first_tolerance(grid: EdgeGrid) -> float:
    """Loss of lying one tolerance low: next to nothing, unless that is much of the range."""
    share = grid.tolerance / max(grid.steps, 1)
    return max(FIRST_TOLERANCE, min(_COARSE * share**2, EACH_TOLERANCE))


def _shortfall(tolerances: Array, first_loss: float) -> Array:
    first = first_loss * np.clip(tolerances, 0, 1)
    return np.asarray(first + EACH_TOLERANCE * np.log2(1 + np.maximum(tolerances - 1, 0)))


def decide(table: Array, mass: Array) -> Decision:
    """The best recommendation under probabilities of the edge, shape (r + 1, n), (n,)."""
    expected = np.einsum("rn,n->r", table, mass)
    index = int(np.argmin(np.round(expected, 12)))
    return Decision(NONE if index == len(expected) - 1 else index, float(expected[index]))


def loss_after(table: Array, branches: Array) -> Array:
    """Expected loss once a run has come out, for each candidate run.

    `branches`: joint probability of each outcome and edge, shape (c, outcomes, n); gives (c,).
    """
    expected = np.einsum("rn,con->cor", table, branches)
    return np.asarray(expected.min(axis=-1).sum(axis=-1))
