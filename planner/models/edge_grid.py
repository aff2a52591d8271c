"""Where one knob's edge may lie, against the shapes that it may have: tables on one grid.

The chance to hold depends only on how far a value lies past the edge, so one table over
distances serves every value: a value's row is a window of it.
"""

import math
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from planner.models.hazard import Array, Shapes

CELLS = 8
"""Grid cells for each tolerance, as a rule."""
MARGIN = 8
"""How many tolerances the grid reaches beyond either end of the range."""


@dataclass(frozen=True)
class EdgeGrid:
    """Where the edge may lie, in steps from the easiest value, against its possible shapes."""

    steps: int
    """Steps from the easiest to the hardest value."""
    tolerance: float
    """How many steps below the edge are near enough."""
    target: float
    shapes: Shapes
    cells: int = CELLS
    """Cells for each tolerance."""

    @cached_property
    def cell(self) -> float:
        """Width of a cell, in steps."""
        return self.tolerance / self.cells

    @cached_property
    def edges(self) -> Array:
        """Centres of the cells, from below the range to above it, in steps, shape (n,)."""
        margin = MARGIN * self.tolerance
        count = math.ceil((self.steps + 2 * margin) / self.cell)
        return np.asarray(-margin + self.cell * (np.arange(count) + 0.5), float)

    @cached_property
    def _beyond(self) -> Array:
        return self.shapes.edge_beyond(self.target)

    def survival(self, hardness: float, share: float) -> Array:
        """Chance to hold `share` of a nominal run at a hardness, shape (m, n)."""
        return _window(self._survival_table(share), *self._place(hardness), len(self.edges))

    def counted(self, hardness: float, share: float, errors: int) -> Array:
        """Chance of about so many errors in `share` of a nominal run, shape (m, n)."""
        return _window(self._counted_table(share, errors), *self._place(hardness), len(self.edges))

    def _place(self, hardness: float) -> tuple[int, float]:
        # Row k of a table is k cells past the edge, counted from its first row; a value's window
        # runs backwards through the table as the edge moves up.
        reach = len(self.edges)
        first = (hardness - self.edges[0]) / self.cell + reach
        first = min(max(first, reach - 1.0), 2 * reach + 1.0)
        whole = math.floor(first)
        return whole, first - whole

    @cached_property
    def _offsets(self) -> Array:
        reach = len(self.edges)
        offsets = self.cell * (np.arange(2 * reach + 3) - reach)
        return np.asarray(offsets[None, :] + self._beyond[:, None])

    def _survival_table(self, share: float) -> Array:
        return _survival_table(self, round(share, 6))

    def _counted_table(self, share: float, errors: int) -> Array:
        return _counted_table(self, round(share, 6), errors)


@lru_cache(maxsize=64)
def _survival_table(grid: EdgeGrid, share: float) -> Array:
    return grid.shapes.survival(grid._offsets, share)


@lru_cache(maxsize=64)
def _counted_table(grid: EdgeGrid, share: float, errors: int) -> Array:
    return grid.shapes.counted(grid._offsets, share, errors)


def _window(table: Array, first: int, fraction: float, count: int) -> Array:
    near = table[:, first - count + 1 : first + 1][:, ::-1]
    if fraction == 0.0:
        return near
    far = table[:, first - count + 2 : first + 2][:, ::-1]
    return (1 - fraction) * near + fraction * far
