"""What the next run is worth: the fall of expected loss that it promises, per minute.

One run alone often cannot change the recommendation where two or three in a row would, so each
candidate is weighed as a streak: the same value until it fails or has held so many times.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from planner.models.decision import loss_after
from planner.models.edge import EdgePosterior
from planner.models.hazard import Array

BIT = 0.3
"""What one bit about where the edge lies is worth, in loss."""
STREAKS = (1, 2, 3, 5, 8)
"""Lengths of the streaks that are weighed."""


@dataclass(frozen=True)
class Minutes:
    """What the runs of a streak at one value take."""

    held: float
    """Minutes of the first run if it holds, dialling in included."""
    failed: float
    """The same if it fails, recovery and the person's price of a crash included."""
    again_held: float
    """Minutes of each further run, nothing to dial in, if it holds."""
    again_failed: float


@dataclass(frozen=True)
class Worth:
    """What the best streak at each candidate value is worth."""

    values: tuple[float, ...]
    chances: Array
    """Chance that one nominal run holds, shape (c,)."""
    falls: Array
    """Expected fall of the loss, shape (c,)."""
    gains: Array
    """That, and the price of the bits by which the edge becomes known, shape (c,)."""
    minutes: Array
    """Expected minutes, the person's price of a crash included, shape (c,)."""

    @property
    def rates(self) -> Array:
        """Gain per minute, rounded so that no last bit decides, shape (c,)."""
        return np.round(self.gains / self.minutes, 9)


def weigh(
    posterior: EdgePosterior,
    losses: Array,
    loss_now: float,
    values: tuple[float, ...],
    hardness: Sequence[float],
    minutes: Sequence[Minutes],
) -> Worth:
    """The worth of a streak at each of `values`; `losses` has shape (r + 1, n)."""
    held = np.array([_runs(posterior, at) for at in hardness])  # (c, longest, n)
    chances = held.sum(axis=2)  # (c, longest): that so many hold in a row
    spent = np.array([_spent(m, c) for m, c in zip(minutes, chances, strict=True)])
    kept = np.array(STREAKS) - 1
    held, spent = held[:, kept], spent[:, kept]  # (c, k, n), (c, k)
    branches = np.stack([held, posterior.mass - held], axis=2)  # (c, k, 2, n)
    falls = np.stack([loss_now - loss_after(losses, b) for b in branches])  # (c, k)
    cells = posterior.grid.cells
    bits = _bits(posterior.mass[None, :], cells)[0] - _bits(branches, cells).sum(axis=2)  # (c, k)
    gains = falls + BIT * bits
    best = np.argmax(np.round(gains / spent, 9), axis=1)
    rows = np.arange(len(values))
    return Worth(values, chances[:, 0], falls[rows, best], gains[rows, best], spent[rows, best])


def _bits(mass: Array, cells: int) -> Array:
    """What is open about the edge, to a tolerance, in bits; weighted by the total mass.

    Shape (..., n) -> (...); so the sum over the outcomes of a run is what it leaves open.
    """
    starts = np.arange(0, mass.shape[-1], cells)
    bins = np.add.reduceat(mass, starts, axis=-1)
    total = bins.sum(axis=-1, keepdims=True)
    shares = bins / np.maximum(total, 1e-300)
    return np.asarray(-(bins * np.log2(np.maximum(shares, 1e-300))).sum(axis=-1))


def _runs(posterior: EdgePosterior, hardness: float) -> Array:
    """Joint probability of the edge and of 1, 2, ... runs in a row holding, shape (longest, n)."""
    survival = posterior.grid.survival(hardness, 1.0)
    joint = posterior.weights * survival
    rows = [joint.sum(axis=0)]
    while len(rows) < STREAKS[-1]:
        joint = joint * survival
        rows.append(joint.sum(axis=0))
    return np.array(rows)


def _spent(minutes: Minutes, chances: Array) -> Array:
    """Expected minutes until 1, 2, ... runs are over; `chances` that so many hold in a row."""
    total = chances[0] * minutes.held + (1 - chances[0]) * minutes.failed
    spent = [total]
    for before, after in pairwise(chances):
        total = total + after * minutes.again_held + (before - after) * minutes.again_failed
        spent.append(total)
    return np.array(spent)
