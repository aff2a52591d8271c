"""The chance to hold against one risk, from a table.

    log S(y, r) = log E_z[ exp(-exp(y - r z)) ],   z normal

with `y = (coordinate - edge) / width + growth x log(time)` and `r` the run-to-run spread in widths
(`planner.models.hazard` states the law). The table is read at the nearest entry; neighbouring
entries differ by at most 4 %.
"""

from functools import cache

import numpy as np
from numpy.typing import NDArray

from planner.models.hazard import Array

Single = NDArray[np.float32]
"""Half as wide as `Array`: what many runs say of many particles is held in it."""

_LOW, _HIGH, _STEP = -14.0, 10.0, 0.04
PER_UNIT = 1 / _STEP
"""Entries for each unit of `y`."""
SPREADS = np.geomspace(0.1, 6.0, 10)
"""The ratios `r` in the table."""
_FLOOR = -60.0
_NODES = 41
_TOP = (_HIGH - _LOW) / _STEP


@cache
def _table() -> Single:
    y = np.arange(_LOW, _HIGH + _STEP / 2, _STEP)
    z = np.linspace(-4, 4, _NODES)
    weights = np.exp(-0.5 * z**2)
    weights /= weights.sum()
    hazard = np.exp(np.minimum(y[None, :, None] - SPREADS[:, None, None] * z, 30.0))
    held = np.exp(-hazard) @ weights
    logs = np.maximum(np.log(np.maximum(held, 1e-300)), _FLOOR)
    return np.asarray(logs.ravel(), np.float32)


def spread_class(log_ratio: Array) -> Array:
    """The table's row nearest to a log ratio, as an offset."""
    return np.asarray(_row(log_ratio) * (len(_table()) // len(SPREADS)))


def _row(log_ratio: Array) -> Array:
    lowest = np.log(SPREADS[0])
    each = np.log(SPREADS[1]) - lowest
    return np.asarray(np.clip(np.rint((log_ratio - lowest) / each), 0, len(SPREADS) - 1))


def log_survival(y: Array, offset: Array) -> Single:
    """Log of the chance to hold; `offset` is broadcast against `y`."""
    place = np.asarray(y * PER_UNIT + np.zeros_like(offset), np.float32)
    return survival_at(place, np.asarray(offset, np.float32))


def survival_at(place: Single, offset: Single) -> Single:
    """Log of the chance to hold at `y` in entries of the table; overwrites `place`."""
    place -= np.float32(_LOW * PER_UNIT - 0.5)
    np.clip(place, 0.5, _TOP + 0.5, out=place)
    place += offset
    return _table().take(place.astype(np.int32))


def crossing(log_ratio: Array, log_chance: float) -> Array:
    """The `y` at which the chance to hold falls under a given one, for each log ratio."""
    y = np.linspace(-13, 9, 1101)
    held = log_survival(y, spread_class(np.log(SPREADS))[:, None])
    found = y[np.argmax(held < log_chance, axis=1)]
    return np.asarray(found[_row(log_ratio).astype(np.intp)], float)
