"""The posterior of all risks together, as particles moved from the prior to it.

The evidence is raised in steps of a power from 0 to 1, each as large as leaves half the particles
effective (tempering); after each, particles are drawn anew by weight and moved. Where there are
many runs, some evenly chosen ones come first and twice as many in each stage that follows, so that
only the last few steps look at all of them (iterated batches: Chopin 2002, from memory).
"""

from dataclasses import dataclass

import numpy as np

from planner.models.hazard import Array
from planner.models.joint.columns import Places
from planner.models.joint.evidence import Evidence
from planner.models.joint.moves import sweep
from planner.models.joint.prior import TYPICAL, TYPICAL_SD, RiskPrior
from planner.models.joint.state import State, state_of, told_of

COUNT = 600
_MANY, _COUNT_OF_MANY = 300, 300
"""From so many runs on there are so many particles."""
_SWEEPS = 4
"""After each step, and after the last one that looks at all runs."""
_SWEPT = 160
"""So many runs at most are looked at in the sweeps after a step, if more than one."""
_FIRST_RUNS = 80
"""So many runs at most are looked at in the first stage."""


@dataclass(frozen=True)
class Particles:
    """Draws of every risk's row, and of the typical share."""

    priors: tuple[RiskPrior, ...]
    rows: list[Array]
    """Of each risk, shape (n, d)."""
    typical: Array
    """Log of the typical share, shape (n,)."""


def sample(
    priors: tuple[RiskPrior, ...], evidence: Evidence, seed: int, count: int = COUNT
) -> Particles:
    """Particles of the posterior; the same evidence and seed give the same ones."""
    rng = np.random.default_rng([seed, len(evidence.runs)])
    typical = rng.normal(TYPICAL, TYPICAL_SD, count)
    found = Particles(priors, [prior.draw(rng, typical) for prior in priors], typical)
    known: Places = np.array([], np.intp)
    for stage in _stages(len(evidence.runs)):
        if len(stage) > _MANY:
            found = _fewer(found, _COUNT_OF_MANY)
        found, known = _taught(found, evidence, known, stage, rng), stage
    return found


def _stages(runs: int) -> list[Places]:
    """Which runs each stage looks at: every fourth, say, every second, all."""
    strides = [1]
    while runs / strides[0] > _FIRST_RUNS:
        strides.insert(0, 2 * strides[0])
    return [np.arange(0, runs, stride) for stride in strides] if runs else []


def _fewer(found: Particles, count: int) -> Particles:
    """So many of the particles, evenly chosen; their order says nothing."""
    every = max(len(found.typical) // count, 1)
    return Particles(found.priors, [row[::every] for row in found.rows], found.typical[::every])


def _taught(
    found: Particles, evidence: Evidence, known: Places, stage: Places, rng: np.random.Generator
) -> Particles:
    """The particles that know a stage's runs, from those that know the `known` ones."""
    told = told_of(found.priors, evidence, known, stage)
    state, power = state_of(told, found.rows, found.typical), 0.0
    last = len(stage) == len(evidence.runs)
    usual = _SWEEPS if len(evidence.runs) <= _FIRST_RUNS else max(_SWEPT // len(stage), 1)
    while power < 1.0:
        step = _next_power(state.logs[:, 1], power)
        state = _redrawn(state, rng, (step - power) * state.logs[:, 1])
        power = step
        for _ in range(_SWEEPS if last and power == 1 else usual):
            sweep(state, rng, power)
    return Particles(found.priors, state.rows, state.typical)


def _next_power(logs: Array, power: float) -> float:
    """The largest power that leaves half the particles effective."""

    def effective(step: float) -> float:
        weights = np.exp(step * (logs - logs.max()))
        return float(weights.sum() ** 2 / (weights**2).sum())

    half = 0.5 * len(logs)
    if effective(1.0 - power) >= half:
        return 1.0
    low, high = 0.0, 1.0 - power
    for _ in range(30):
        middle = (low + high) / 2
        low, high = (middle, high) if effective(middle) >= half else (low, middle)
    return power + max(low, 1e-4)


def _redrawn(state: State, rng: np.random.Generator, logs: Array) -> State:
    """As many particles drawn by weight."""
    weights = np.exp(logs - logs.max())
    places = (np.arange(state.count) + rng.random()) / state.count
    chosen = np.searchsorted(np.cumsum(weights / weights.sum()), places)
    chosen = rng.permutation(np.minimum(chosen, state.count - 1))
    return state.chosen(chosen)
