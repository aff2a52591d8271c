"""Moves of particles that leave the posterior as it is.

One risk's row moves by a difference of two other particles' rows (differential evolution: ter
Braak 2006, from memory), one half of the particles by differences of the other half.
"""

import numpy as np

from planner.models.hazard import Array
from planner.models.joint.prior import TYPICAL, TYPICAL_SD, X
from planner.models.joint.state import State


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
    """Scaled differences of two rows each of `others`, shape (count, d)."""
    width = others.shape[1]
    one, two = rng.integers(0, len(others), (2, count))
    usual = 1.7 / np.sqrt(2 * width) * rng.uniform(0.3, 1.2, count)
    scale = np.where(rng.random(count) < 0.1, 1.0, usual)
    # Half the moves leave some columns alone: a knob's many numbers are seldom all in the way.
    share = np.where(rng.random(count) < 0.5, 1.0, 0.4)
    kept = rng.random((count, width)) < share[:, None]
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
