"""What a score that is not yet known is expected to rise by."""

from math import pi, sqrt

import numpy as np

from planner.models.hazard import Array


def expected_rise(means: Array, sds: Array, over: Array) -> Array:
    """Expected improvement of a normal score over another (Jones, Schonlau and Welch 1998)."""
    z = (means - over) / sds
    density = np.exp(-0.5 * z**2) / sqrt(2 * pi)
    return np.asarray(np.maximum((means - over) * _normal(z) + sds * density, 0.0))


def _normal(z: Array) -> Array:
    """The distribution function, to 1e-4: a logistic with a cubic term (Page 1977, from memory)."""
    z = np.clip(z, -8, 8)
    return np.asarray(1 / (1 + np.exp(-1.5976 * z - 0.070566 * z**3)))
