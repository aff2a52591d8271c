"""Which value to recommend, and what the next run is worth: losses, not information.

Recommending a value costs 4 if it is unsound (a nominal run passes with less than the target).
If it is sound, each tolerance that it lies below the hardest sound value costs 1, the first
one nearly nothing (0.15): the last step is seldom worth its runs.
"""

from dataclasses import dataclass

import numpy as np

from planner.models.edge_grid import EdgeGrid
from planner.models.hazard import Array

UNSOUND = 3.0
FIRST_TOLERANCE = 0.1
EACH_TOLERANCE = 2.0
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

    `levels`: hardness of the values that may be recommended, ascending, in steps.
    # levels (r,) -> (r + 1, n)
    """
    best = np.searchsorted(levels, grid.edges, side="right") - 1  # (n,)
    reach = np.where(best >= 0, levels[np.maximum(best, 0)], np.nan)
    below = (reach[None, :] - levels[:, None]) / grid.tolerance  # (r, n)
    sound = levels[:, None] <= grid.edges[None, :]
    table = np.where(sound, _shortfall(below), UNSOUND)
    return np.vstack([table, np.where(best >= 0, UNSOUND, 0.0)])


def _shortfall(tolerances: Array) -> Array:
    first = FIRST_TOLERANCE * np.clip(tolerances, 0, 1)
    return np.asarray(first + EACH_TOLERANCE * np.log2(1 + np.maximum(tolerances - 1, 0)))


def decide(table: Array, mass: Array) -> Decision:
    """The best recommendation under probabilities of the edge, shape (r + 1, n), (n,)."""
    expected = np.einsum("rn,n->r", table, mass)
    index = int(np.argmin(np.round(expected, 12)))
    return Decision(NONE if index == len(expected) - 1 else index, float(expected[index]))


def loss_after(table: Array, branches: Array) -> Array:
    """Expected loss once a run has come out, for each candidate run.

    `branches`: joint probability of each outcome and edge.  # (c, outcomes, n) -> (c,)
    """
    expected = np.einsum("rn,con->cor", table, branches)
    return np.asarray(expected.min(axis=-1).sum(axis=-1))


@dataclass(frozen=True)
class Worth:
    """What one nominal run at each candidate value is worth."""

    values: tuple[float, ...]
    chances: Array
    """Chance that it holds, shape (c,)."""
    falls: Array
    """Expected fall of the loss, shape (c,)."""
    minutes: Array
    """Expected minutes, the person's price of a crash included, shape (c,)."""

    @property
    def rates(self) -> Array:
        """Fall of loss per minute, rounded so that no last bit decides, shape (c,)."""
        return np.round(self.falls / self.minutes, 9)
