"""What is believed of a knob's edge before any run."""

from functools import lru_cache

import numpy as np

from planner.domain.knob import Knob
from planner.models.edge_grid import EdgeGrid
from planner.models.hazard import Array, Shapes, log_spaced

FINE = 40
"""A range with more steps than this is taken in fractions: a fortieth of it is near enough."""
_WIDTHS = 9
_SPREADS = (0.1, 0.2, 0.4)
"""Run-to-run spread of the edge, in steps (common practice, no source)."""
_FINE_SPREADS = (0.1, 0.25, 0.6, 1.5)
"""The same in tolerances, where steps are finer than the edge is wide."""
_USUAL_WIDTH = 0.35
"""Width, in tolerances, above which edges become rare, with its cube."""
_BELOW_STOCK = 0.25
"""Density of an edge under the stock value against above it: makers sell what holds."""
_OUTSIDE = 0.35
"""Density beyond either end of the range against within."""
_FADES = 4.0
"""Tolerances over which that density falls to a third."""
_EXPECTED = 8.0
"""Density where the person expects the edge against elsewhere."""


def grid_for(knob: Knob, target: float, tolerance: float | None) -> EdgeGrid:
    """The grid of a knob's edge; `tolerance` in the knob's unit, None for the usual one."""
    assert knob.grid is not None, knob.name
    steps = knob.grid.size - 1
    near = max(1.0, steps / FINE) if tolerance is None else max(1.0, tolerance / knob.grid.step)
    widths = log_spaced(0.05 * near, max(steps / 4, near), _WIDTHS)
    spreads = _SPREADS if steps <= FINE else _FINE_SPREADS
    shapes = Shapes(tuple(widths), tuple(near * s for s in spreads))
    return EdgeGrid(steps, near, target, shapes)


@lru_cache(maxsize=64)
def edge_prior(grid: EdgeGrid, knob: Knob) -> Array:
    """Weights over shapes and edges that sum to 1, shape (m, n)."""
    outside = np.maximum(np.maximum(-grid.edges, grid.edges - grid.steps), 0.0)  # steps
    density = np.where(outside > 0, _OUTSIDE * np.exp(-outside / (_FADES * grid.tolerance)), 1.0)
    if not isinstance(knob.stock, str):
        density = density * np.where(grid.edges < knob.hardness(knob.stock), _BELOW_STOCK, 1.0)
    if knob.expected:
        low, high = sorted(knob.hardness(v) for v in knob.expected)
        density = density * np.where((grid.edges >= low) & (grid.edges <= high), _EXPECTED, 1.0)
    shape = 1 / (1 + (grid.shapes.width / (_USUAL_WIDTH * grid.tolerance)) ** 3)
    prior = shape[:, None] * density[None, :]
    return np.asarray(prior / prior.sum())
