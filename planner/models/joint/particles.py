"""The posterior of all risks together, as particles moved from the prior to it.

The evidence is raised in steps of a power from 0 to 1, each as large as leaves half the particles
effective (tempering); after each, particles are drawn anew by weight and moved. Where there are
many runs, some evenly chosen ones come first and twice as many in each stage that follows, so that
only the last few steps look at all of them (iterated batches: Chopin 2002, from memory).
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from planner.models.hazard import Array
from planner.models.joint.columns import Places
from planner.models.joint.evidence import Evidence
from planner.models.joint.moves import sweep, sweep_groups
from planner.models.joint.prior import RiskPrior, draw_typical
from planner.models.joint.shifting import GroupPrior
from planner.models.joint.shifts import Shared
from planner.models.joint.state import Draws, State, state_of, told_of

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
    """Draws of all that is unknown, with the priors that they came from."""

    priors: tuple[RiskPrior, ...]
    groups: tuple[GroupPrior, ...]
    draws: Draws

    @property
    def rows(self) -> list[Array]:
        """Of each risk, shape (n, d)."""
        return self.draws.rows


def sample(
    priors: tuple[RiskPrior, ...],
    evidence: Evidence,
    seed: int,
    count: int = COUNT,
    shared: Sequence[Shared] = (),
) -> Particles:
    """Particles of the posterior; the same evidence and seed give the same ones."""
    rng = np.random.default_rng([seed, len(evidence.runs)])
    groups = tuple(GroupPrior(each) for each in shared)
    found = Particles(priors, groups, _drawn(priors, groups, evidence, rng, count))
    known: Places = np.array([], np.intp)
    for stage in _stages(len(evidence.runs)):
        if len(stage) > _MANY:
            every = max(len(found.draws.typical) // _COUNT_OF_MANY, 1)
            found = Particles(priors, groups, found.draws.chosen(slice(None, None, every)))
        found, known = _taught(found, evidence, known, stage, rng), stage
    return found


def _drawn(
    priors: tuple[RiskPrior, ...],
    groups: tuple[GroupPrior, ...],
    evidence: Evidence,
    rng: np.random.Generator,
    count: int,
) -> Draws:
    """Draws from the prior."""
    typical = draw_typical(rng, priors, count)
    rows = [prior.draw(rng, typical[:, prior.centre]) for prior in priors]
    last = int(evidence.boot.max(initial=0))
    boots = [
        rng.standard_normal((count, last + 1 if group.shared.boots else 0)) for group in groups
    ]
    return Draws(rows, typical, [group.draw(rng, count) for group in groups], boots)


def _stages(runs: int) -> list[Places]:
    """Which runs each stage looks at: every fourth, say, every second, all."""
    strides = [1]
    while runs / strides[0] > _FIRST_RUNS:
        strides.insert(0, 2 * strides[0])
    return [np.arange(0, runs, stride) for stride in strides] if runs else []


def _taught(
    found: Particles, evidence: Evidence, known: Places, stage: Places, rng: np.random.Generator
) -> Particles:
    """The particles that know a stage's runs, from those that know the `known` ones."""
    told = told_of(found.priors, found.groups, evidence, known, stage)
    state, power = state_of(told, found.draws), 0.0
    last = len(stage) == len(evidence.runs)
    usual = _SWEEPS if len(evidence.runs) <= _FIRST_RUNS else max(_SWEPT // len(stage), 1)
    while power < 1.0:
        step = _next_power(state.logs[:, 1], power)
        state = _redrawn(state, rng, (step - power) * state.logs[:, 1])
        power = step
        for _ in range(_SWEEPS if last and power == 1 else usual):
            sweep(state, rng, power)
        sweep_groups(state, rng, power)
    return Particles(found.priors, found.groups, state.draws)


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
