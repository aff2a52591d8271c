"""The grid of the edges along a frontier, and what is believed of the first one before any run."""

from functools import lru_cache

import numpy as np

from planner.domain.knob import Knob
from planner.models.edge_grid import EdgeGrid
from planner.models.edge_prior import FINE, edge_prior
from planner.models.hazard import Array, Shapes, log_spaced

_CELLS = 4
"""Cells for each tolerance: half as fine as for one edge, since there are many."""
_WIDTHS = 5
_SPREADS = (0.15, 0.35)
"""Run-to-run spread of the edge, in tolerances (common practice, no source)."""

_GROWTHS = (1.0, 3.0)
"""A constant rate of failure, or one that grows as a part does that warms up during the run:
then failures come late however far past the edge, and say little of how far."""


def frontier_grid(knob: Knob, target: float, tolerance: float | None) -> EdgeGrid:
    """The grid of a knob's edge at every station; `tolerance` in the knob's unit, None: usual."""
    assert knob.grid is not None, knob.name
    steps = knob.grid.size - 1
    near = max(1.0, steps / FINE) if tolerance is None else max(1.0, tolerance / knob.grid.step)
    widths = log_spaced(0.05 * near, max(steps / 6, near), _WIDTHS)
    shapes = Shapes(tuple(widths), tuple(near * s for s in _SPREADS), growths=_GROWTHS)
    return EdgeGrid(steps, near, target, shapes, _CELLS)


@lru_cache(maxsize=16)
def priors(grid: EdgeGrid, knob: Knob) -> tuple[Array, Array]:
    """Weights over shapes and edges at the first station, and what stock says, each (m, n).

    Where the edge lies at the first station, the hardest, nothing is said but that it may be out
    of range. That makers sell what holds, and where the person expects the edge, is told of the
    station at stock.
    """
    told = edge_prior(grid, knob)
    shape = told.sum(axis=1, keepdims=True)
    flat = np.ones((1, len(grid.edges)))
    return shape * flat / flat.size, np.asarray(told / shape)
