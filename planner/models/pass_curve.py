"""The chance to pass along the knob, with its band: what a picture or a table of it shows."""

from dataclasses import dataclass

import numpy as np

from planner.models.edge import LEVEL, EdgePosterior
from planner.models.hazard import Array


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


def pass_curve(
    posterior: EdgePosterior, first: float, last: float, places: int = 181, level: float = LEVEL
) -> PassCurve:
    """The curve from hardness `first` to `last`, both in steps, at evenly spaced places."""
    hardness = np.linspace(first, last, places)
    intervals = np.array([posterior.chance_interval(float(h), level) for h in hardness])
    return PassCurve(
        hardness=hardness,
        mean=np.array([posterior.chance(float(h)) for h in hardness]),
        low=intervals[:, 0],
        high=intervals[:, 1],
        level=level,
    )
