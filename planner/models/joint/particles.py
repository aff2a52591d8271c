"""The posterior of all risks together, as particles moved from the prior to it.

The runs are told in stages, as they came: one by one at first, then a fifth more each time, so that
particles have long been moved about what early runs said when late ones come (iterated batches:
Chopin 2002, from memory). What a stage tells is raised in steps of a power from 0 to 1, each as
large as leaves half the particles effective (tempering); after each, particles are drawn anew by
weight and moved. Where there are very many runs, some evenly chosen ones come first and twice as
many in each stage that follows, so that only the last few steps look at all of them.

A stage's draws are its own, so what it ends in is a function of the runs told by then. It is
remembered, and an evening that goes on need not begin anew (`remembered`, `shelf`).
"""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from planner.models.hazard import Array
from planner.models.joint.columns import Places
from planner.models.joint.evidence import Evidence
from planner.models.joint.moves import sweep, sweep_groups
from planner.models.joint.prior import RiskPrior, draw_typical
from planner.models.joint.remembered import REMEMBERED, Particles
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
"""From more runs on, the first stage looks at so many at most, and the next at twice as many."""
_MORE = 1.2
"""By how much stages grow before."""
_LATE = 3
"""The ends of so many stages before the last are remembered: if the next run changes what the last
of them was told, as a repeat does and one more of very many may, it begins from one before."""


def sample(
    priors: tuple[RiskPrior, ...],
    evidence: Evidence,
    seed: int,
    count: int = COUNT,
    shared: Sequence[Shared] = (),
) -> Particles:
    """Particles of the posterior; the same evidence and seed give the same ones."""
    groups = tuple(GroupPrior(each) for each in shared)
    stages = _stages(len(evidence.runs))
    asked = (seed, count, priors, groups)
    done, draws = REMEMBERED.latest(asked, evidence, stages)
    if draws is None:
        draws = _drawn(priors, groups, np.random.default_rng([seed]), count)
    found = Particles(priors, groups, draws)
    for last in range(done, len(stages)):
        stage = stages[last]
        if len(stage) > _MANY:
            every = max(len(found.draws.typical) // _COUNT_OF_MANY, 1)
            found = Particles(priors, groups, found.draws.chosen(slice(None, None, every)))
        known = stages[last - 1] if last else stage[:0]
        rng = np.random.default_rng([seed, len(stage)])
        found = _taught(found, evidence, known, stage, rng)
        if len(stages) - _LATE <= last + 1 < len(stages):
            REMEMBERED.keep(asked, evidence.only(stage), found.draws)
    return found


def _drawn(
    priors: tuple[RiskPrior, ...],
    groups: tuple[GroupPrior, ...],
    rng: np.random.Generator,
    count: int,
) -> Draws:
    """Draws from the prior, no boot among them yet."""
    typical = draw_typical(rng, priors, count)
    rows = [prior.draw(rng, typical[:, prior.centre]) for prior in priors]
    boots = [np.zeros((count, 0)) for _ in groups]
    return Draws(rows, typical, [group.draw(rng, count) for group in groups], boots)


def _booted(found: Particles, boots: int, rng: np.random.Generator) -> Draws:
    """The draws with as many boots as there were by now."""
    draws, booted = found.draws, []
    for group, known in zip(found.groups, found.draws.boots, strict=True):
        more = max(boots - known.shape[1], 0) if group.shared.boots else 0
        booted.append(np.column_stack([known, rng.standard_normal((len(known), more))]))
    return replace(draws, boots=booted)


def _stages(runs: int) -> list[Places]:
    """Which runs each stage looks at, the last one at all."""
    if runs <= _FIRST_RUNS:
        ends, end = [], 1
        while end < runs:
            ends.append(end)
            end = max(end + 1, int(end * _MORE))
        return [np.arange(end) for end in [*ends, runs] if end]
    strides = [1]
    while runs / strides[0] > _FIRST_RUNS:
        strides.insert(0, 2 * strides[0])
    return [np.arange(0, runs, stride) for stride in strides]


def _taught(
    found: Particles, evidence: Evidence, known: Places, stage: Places, rng: np.random.Generator
) -> Particles:
    """The particles that know a stage's runs, from those that know the `known` ones."""
    told = told_of(found.priors, found.groups, evidence, known, stage)
    draws = _booted(found, int(evidence.boot[stage].max()) + 1, rng)
    state, power = state_of(told, draws), 0.0
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
