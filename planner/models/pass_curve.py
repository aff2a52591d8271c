"""The chance to pass along the knob, with its band: what a picture or a table of it shows."""

from dataclasses import dataclass

import numpy as np

from planner.models.edge import LEVEL, EdgePosterior
from planner.models.hazard import Array

_PLACES = 60
"""Evenly over what is shown, and as many again where the edge most likely lies."""
_MOST = 0.98
"""Probability that it lies there."""


@dataclass(frozen=True, slots=True)
class PassCurve:
    """Chance that a nominal run passes, at `p` places along the knob."""

    hardness: Array
    """Steps from the easiest value towards failure, ascending, shape (p,)."""
    mean: Array
    """Posterior mean of the chance, shape (p,)."""
    low: Array
    """Lower end of its credible interval, each place for itself, shape (p,)."""
    high: Array
    """Upper end, shape (p,)."""
    level: float
    """Credibility of each interval."""


def pass_curve(posterior: EdgePosterior, first: float, last: float) -> PassCurve:
    """The curve from hardness `first` to `last`, in steps; closer places where it may fall."""
    near = 2 * posterior.grid.tolerance
    low, high = posterior.interval(_MOST)
    steep = np.linspace(max(first, low - near), min(last, high + near), _PLACES)
    everywhere = np.linspace(first, last, _PLACES)
    hardness = np.unique(np.clip(np.concatenate([everywhere, steep]), first, last))
    intervals = np.array([posterior.chance_interval(float(h)) for h in hardness])
    return PassCurve(
        hardness=hardness,
        mean=np.array([posterior.chance(float(h)) for h in hardness]),
        low=intervals[:, 0],
        high=intervals[:, 1],
        level=LEVEL,
    )
