"""Moves of particles that leave the posterior as it is.

One risk's row moves by a difference of two other particles' rows (differential evolution: ter
Braak 2006, from memory), one half of the particles by differences of the other half.
"""

import numpy as np

from planner.models.hazard import Array
from planner.models.joint.prior import TYPICAL, TYPICAL_SD, X
from planner.models.joint.state import State

_LEAPS, _WHOLE, _FEW = 0.08, 0.4, 0.4
"""Shares of moves: by whole differences of all columns, of all columns, of a few."""


def sweep(state: State, rng: np.random.Generator, power: float) -> None:
    """One move of everything, the new runs counting by `power`."""
    for place in range(len(state.rows)):
        _move_risk(state, rng, power, place)
    _move_typical(state, rng)


def _move_risk(state: State, rng: np.random.Generator, power: float, place: int) -> None:
    """One risk's rows, half by half, by differences of the other half's rows."""
    half = state.count // 2
    ends = (slice(0, half), slice(half, state.count))
    prior, asked = state.told.priors[place], state.told.asked[place]
    for mine, other in (ends, ends[::-1]):
        rows = state.rows[place][mine]
        proposed = rows + _differences(state.rows[place][other], rng, len(rows))
        belief = prior.log_density(proposed, state.typical[mine])
        new = asked.terms(proposed)
        total = state.total.rows(mine).changed(state.terms[place].rows(mine), new)
        every = [new if k == place else t.rows(mine) for k, t in enumerate(state.terms)]
        logs = state.told.logs(every, total)
        ratio = belief - state.beliefs[place, mine] + (logs - state.logs[mine]) @ np.array([1.0, power])
        accepted = np.flatnonzero(np.log(rng.random(len(rows))) < ratio)
        kept = accepted + mine.start
        state.rows[place][kept] = proposed[accepted]
        state.terms[place].put(kept, accepted, new)
        state.total.put(kept, accepted, total)
        state.logs[kept], state.beliefs[place, kept] = logs[accepted], belief[accepted]


def _differences(others: Array, rng: np.random.Generator, count: int) -> Array:
    """Scaled differences of two rows each of `others`, shape (count, d).

    Some of all columns, some of a few, some of the edge alone: a knob's many numbers are seldom
    all in the way. Sizes are those at which a third to a half of the moves are taken.
    """
    width = others.shape[1]
    one, two = rng.integers(0, len(others), (2, count))
    kind, size = rng.random(count), rng.uniform(0.7, 1.3, count)
    whole, few = kind < _WHOLE, kind < _WHOLE + _FEW
    kept = rng.random((count, width)) < np.where(whole, 1.0, np.where(few, 0.3, 0.0))[:, None]
    kept[:, X] |= ~few
    usual = 1.7 / np.sqrt(2 * width)
    scale = np.where(whole, np.where(kind < _LEAPS, 1.0, usual * size), size)
    noise = 3e-4 * (rng.random((count, width)) - 0.5)
    return np.asarray((scale[:, None] * (others[one] - others[two]) + noise) * kept)


def _move_typical(state: State, rng: np.random.Generator) -> None:
    proposed = state.typical + rng.normal(0, 0.3, state.count)
    ratio = 0.5 * ((state.typical - TYPICAL) ** 2 - (proposed - TYPICAL) ** 2) / TYPICAL_SD**2
    changes = np.array(
        [
            prior.share_density(row[:, X], proposed) - prior.share_density(row[:, X], state.typical)
            for prior, row in zip(state.told.priors, state.rows, strict=True)
        ]
    )
    accepted = np.log(rng.random(state.count)) < ratio + changes.sum(axis=0)
    state.typical = np.where(accepted, proposed, state.typical)
    state.beliefs += np.where(accepted, changes, 0.0)
