"""What is believed of the way the edge goes from one station to the next, before any run.

The edge's rise per spacing follows a walk of its own: it may be anything up to the whole range in
a few spacings, it tends to shrink, as help saturates, and once it has turned to a fall (heat, too
much voltage) it seldom turns back. Rises are in shares of `usual`, the rise with which the
frontier would just cross the searched range. Common practice, no source.
"""

from functools import lru_cache

import numpy as np

from planner.models.hazard import Array

_APART = 0.15
"""Distance of neighbouring rises; steep falls lie farther apart."""
_USUAL_FALL = 0.3
"""Falls fade that fast; rises fade with `usual` itself."""
_FALLING = 0.1
"""Density of a fall against a rise of nothing, before any run."""
_SMOOTH, _SMOOTH_SHIFT = 0.15, -0.03
"""Usual change of the rise over one spacing: its spread, and what it tends to lose."""
_BENT, _BENT_SHIFT, _BENT_SHARE = 0.35, -0.25, 0.1
"""The same where the frontier bends, and how often it does."""
_TURN = 0.3
"""Chance that a rise turns to a fall, against what the walk alone would say."""
_RECOVERY = 0.1
"""The same that a fall turns back to a rise."""

RISES: Array = np.concatenate(([-4.0, -3.0, -2.3, -1.8, -1.4], np.arange(-7, 17) * _APART))
"""Shares of `usual`, ascending, shape (d,)."""
_ROOM: Array = np.gradient(RISES)
"""How much of the line each stands for."""


def first_rises() -> Array:
    """Probability of each rise between the first two stations, shape (d,)."""
    density = np.where(RISES >= 0, np.exp(-RISES), _FALLING * np.exp(RISES / _USUAL_FALL))
    density = density * _ROOM
    return np.asarray(density / density.sum())


@lru_cache(maxsize=256)
def change_of_rise(gap: float) -> Array:
    """Probability of a rise after another, `gap` spacings on, shape (d, d), rows sum to 1."""
    change = RISES[None, :] - RISES[:, None]
    # A fall goes on the faster the steeper it is: heat feeds itself.
    speed = (gap * (1 + np.maximum(-RISES, 0.0)))[:, None]
    density = (1 - _BENT_SHARE) * _normal(change, _SMOOTH_SHIFT * speed, _SMOOTH * speed**0.5)
    density = density + _BENT_SHARE * _normal(change, _BENT_SHIFT * speed, _BENT * speed**0.5)
    density = density * _ROOM
    falling = RISES < -1e-9
    density = np.where(~falling[:, None] & falling[None, :], _TURN * density, density)
    density = np.where(falling[:, None] & ~falling[None, :], _RECOVERY * density, density)
    return np.asarray(density / density.sum(axis=1, keepdims=True))


def roughness(usual: float, tolerance: float, gap: float) -> float:
    """Standard deviation of the edge about its walk, in steps: grain, and what RISES leave out."""
    grain = 0.25 * tolerance
    return float(np.hypot(grain, 0.4 * _APART * usual) * gap**0.5)


def _normal(x: Array, mean: Array, sd: Array) -> Array:
    # Never narrower than the rises lie apart, or a rise could not change at all.
    sd = np.maximum(sd, 0.6 * _APART)
    return np.asarray(np.exp(-0.5 * ((x - mean) / sd) ** 2) / sd)
