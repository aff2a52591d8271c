"""The posterior of all risks together, as particles moved from the prior to it.

The evidence is raised in steps of a power from 0 to 1, each as large as leaves half the particles
effective (tempering); after each, particles are drawn anew by weight and moved. A move changes one
risk's row by a difference of two other particles' rows (differential evolution: ter Braak 2006,
from memory), one half of the particles by differences of the other half, so that each half's move
leaves the posterior as it is.
"""

from dataclasses import dataclass

import numpy as np

from planner.models.hazard import Array
from planner.models.joint.evidence import Evidence
from planner.models.joint.likelihood import Terms, log_likelihood, shares, terms
from planner.models.joint.prior import TYPICAL, TYPICAL_SD, RiskPrior, X

COUNT = 600
_SWEEPS = 2
_LAST_SWEEPS = 4


@dataclass
class Particles:
    """Draws of every risk's row, and of the typical share."""

    priors: tuple[RiskPrior, ...]
    evidence: Evidence
    rows: list[Array]
    """Of each risk, shape (n, d)."""
    typical: Array
    """Log of the typical share, shape (n,)."""
    terms: list[Terms]
    log_likelihood: Array

    @property
    def count(self) -> int:
        """How many particles there are."""
        return len(self.typical)


def sample(
    priors: tuple[RiskPrior, ...], evidence: Evidence, seed: int, count: int = COUNT
) -> Particles:
    """Particles of the posterior; the same evidence and seed give the same ones."""
    rng = np.random.default_rng([seed, len(evidence.runs)])
    typical = rng.normal(TYPICAL, TYPICAL_SD, count)
    rows = [prior.draw(rng, typical) for prior in priors]
    every = [
        terms(p, i, row, evidence) for i, (p, row) in enumerate(zip(priors, rows, strict=True))
    ]
    state = Particles(priors, evidence, rows, typical, every, np.zeros(count))
    if not evidence.runs:
        return state
    state.log_likelihood = _weighed(every, evidence)
    power = 0.0
    while power < 1.0:
        step = _next_power(state.log_likelihood, power)
        state = _redrawn(state, rng, (step - power) * state.log_likelihood)
        power = step
        for _ in range(_SWEEPS if power < 1 else _LAST_SWEEPS):
            _sweep(state, rng, power)
    return state


def _weighed(every: list[Terms], evidence: Evidence) -> Array:
    return log_likelihood(every, evidence) + _suspicion(every, evidence)


def _suspicion(every: list[Terms], evidence: Evidence) -> Array | float:
    told = np.flatnonzero((evidence.suspected != 1).any(axis=1))
    if not len(told):
        return 0.0
    part = [t.runs(told) for t in every]
    share = shares(part, evidence.only(told))
    likely = (share * evidence.suspected[told]).sum(axis=2)
    return np.asarray(np.log(np.maximum(likely, 1e-12)).sum(axis=1))


def _next_power(log_likelihood: Array, power: float) -> float:
    """The largest power that leaves half the particles effective."""

    def effective(step: float) -> float:
        logs = step * log_likelihood
        weights = np.exp(logs - logs.max())
        return float(weights.sum() ** 2 / (weights**2).sum())

    half = 0.5 * len(log_likelihood)
    if effective(1.0 - power) >= half:
        return 1.0
    low, high = 0.0, 1.0 - power
    for _ in range(30):
        middle = (low + high) / 2
        low, high = (middle, high) if effective(middle) >= half else (low, middle)
    return power + max(low, 1e-4)


def _redrawn(state: Particles, rng: np.random.Generator, logs: Array) -> Particles:
    weights = np.exp(logs - logs.max())
    places = (np.arange(state.count) + rng.random()) / state.count
    chosen = np.searchsorted(np.cumsum(weights / weights.sum()), places)
    chosen = rng.permutation(np.minimum(chosen, state.count - 1))
    return Particles(
        state.priors,
        state.evidence,
        [row[chosen] for row in state.rows],
        state.typical[chosen],
        [t.rows(chosen) for t in state.terms],
        state.log_likelihood[chosen],
    )


def _sweep(state: Particles, rng: np.random.Generator, power: float) -> None:
    for place in range(len(state.priors)):
        _move(state, rng, power, place)
    _move_typical(state, rng)


def _move(state: Particles, rng: np.random.Generator, power: float, place: int) -> None:
    """One risk's rows, half by half, by differences of the other half's rows."""
    half = state.count // 2
    ends = (slice(0, half), slice(half, state.count))
    for mine, other in (ends, ends[::-1]):
        prior, rows = state.priors[place], state.rows[place][mine]
        proposed = rows + _differences(state.rows[place][other], rng, len(rows))
        new = terms(prior, place, proposed, state.evidence)
        every = [new if i == place else t.rows(mine) for i, t in enumerate(state.terms)]
        weighed = _weighed(every, state.evidence)
        ratio = power * (weighed - state.log_likelihood[mine])
        ratio = ratio + prior.log_density(proposed, state.typical[mine])
        ratio = ratio - prior.log_density(rows, state.typical[mine])
        accepted = np.log(rng.random(len(rows))) < ratio
        state.rows[place][mine][accepted] = proposed[accepted]
        state.terms[place].put(mine, accepted, new)
        state.log_likelihood[mine][accepted] = weighed[accepted]


def _differences(others: Array, rng: np.random.Generator, count: int) -> Array:
    """Scaled differences of two rows each of `others`, shape (count, d)."""
    width = others.shape[1]
    one, two = rng.integers(0, len(others), (2, count))
    usual = 1.7 / np.sqrt(2 * width) * rng.uniform(0.3, 1.2, count)
    scale = np.where(rng.random(count) < 0.1, 1.0, usual)
    # Half the moves leave some columns alone: a knob's many numbers are seldom all in the way.
    share = np.where(rng.random(count) < 0.5, 1.0, 0.4)
    kept = rng.random((count, width)) < share[:, None]
    noise = rng.normal(0, 1e-4, (count, width))
    return np.asarray((scale[:, None] * (others[one] - others[two]) + noise) * kept)


def _move_typical(state: Particles, rng: np.random.Generator) -> None:
    proposed = state.typical + rng.normal(0, 0.3, state.count)
    ratio = 0.5 * ((state.typical - TYPICAL) ** 2 - (proposed - TYPICAL) ** 2) / TYPICAL_SD**2
    for prior, row in zip(state.priors, state.rows, strict=True):
        ratio = ratio + prior.share_density(row[:, X], proposed)
        ratio = ratio - prior.share_density(row[:, X], state.typical)
    accepted = np.log(rng.random(state.count)) < ratio
    state.typical = np.where(accepted, proposed, state.typical)
