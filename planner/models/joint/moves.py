"""Moves of particles that leave the posterior as it is.

A risk's row, or a group's, moves by a difference of two other particles' rows (differential
evolution: ter Braak 2006, from memory), one half of the particles by differences of the other half.
Boots move all at once, each taken or left for itself, because no two of them share a run.
"""

import numpy as np

from planner.models.hazard import Array
from planner.models.joint.columns import Places
from planner.models.joint.likelihood import Offset, Terms
from planner.models.joint.prior import X, typical_density
from planner.models.joint.state import State

_LEAPS, _WHOLE, _FEW = 0.08, 0.4, 0.4
"""Shares of moves: by whole differences of all columns, of all columns, of a few."""
_KEPT = 0.6
"""How alike a boot stays in a move (correlation)."""


def sweep(state: State, rng: np.random.Generator, power: float) -> None:
    """One move of every risk and of the typical share, the new runs counting by `power`."""
    for place in range(len(state.draws.rows)):
        for mine, other in _halves(state):
            _move_risk(state, rng, power, place, mine, other)
    _move_typical(state, rng)


def sweep_groups(state: State, rng: np.random.Generator, power: float) -> None:
    """One move of what shifts whole groups."""
    for group in range(len(state.draws.groups)):
        for mine, other in _halves(state):
            _move_group(state, rng, power, group, mine, other)
        if state.told.groups[group].shared.boots:
            _move_boots(state, rng, power, group)


def _halves(state: State) -> tuple[tuple[slice, slice], tuple[slice, slice]]:
    half = state.count // 2
    one, two = slice(0, half), slice(half, state.count)
    return (one, two), (two, one)


def _move_risk(
    state: State, rng: np.random.Generator, power: float, place: int, mine: slice, other: slice
) -> None:
    """One risk's rows of half the particles, by differences of the other half's."""
    rows = state.draws.rows[place]
    proposed = rows[mine] + _differences(rows[other], rng, len(rows[mine]))
    prior = state.told.priors[place]
    belief = prior.log_density(proposed, state.draws.typical[mine, prior.centre])
    offset = state.offset(place)
    new = {place: state.told.asked[place].terms(proposed, offset and offset.rows(mine))}
    gained = belief - state.beliefs[place, mine]
    accepted, kept = _taken(state, rng, power, mine, new, gained)
    rows[kept] = proposed[accepted]
    state.beliefs[place, kept] = belief[accepted]


def _taken(
    state: State,
    rng: np.random.Generator,
    power: float,
    mine: slice,
    new: dict[int, Terms],
    gained: Array,
) -> tuple[Places, Places]:
    """Which of some particles' proposals are taken, and their places among all particles.

    `new`: the terms of the risks that a proposal moves; `gained`: its log prior density over that
    of where the particle stands. What the runs say of those taken is put into the state.
    """
    total = _total(state, mine, new)
    every = [new.get(k) or terms.rows(mine) for k, terms in enumerate(state.terms)]
    logs = state.told.logs(every, total)
    ratio = gained + (logs - state.logs[mine]) @ _powers(power)
    accepted = np.flatnonzero(np.log(rng.random(len(logs))) < ratio)
    kept = accepted + mine.start
    for place, terms in new.items():
        state.terms[place].put(kept, accepted, terms)
    state.total.put(kept, accepted, total)
    state.logs[kept] = logs[accepted]
    return accepted, kept


def _total(state: State, mine: slice, new: dict[int, Terms]) -> Terms:
    """The sums of some particles with some risks' terms replaced."""
    total = state.total.rows(mine)
    for place, terms in new.items():
        total = total.changed(state.terms[place].rows(mine), terms)
    return total


def _powers(power: float) -> Array:
    return np.array([1.0, power])


def _differences(others: Array, rng: np.random.Generator, count: int) -> Array:
    """Scaled differences of two rows each of `others`, shape (count, d).

    Some of all columns, some of a few, some of the first alone, where the edge lies: a knob's many
    numbers are seldom all in the way. Sizes are those at which a third to a half are taken.
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
    """The common typical share, then each family's."""
    draws, priors = state.draws, state.told.priors
    for centre in range(draws.typical.shape[1]):
        proposed = draws.typical.copy()
        proposed[:, centre] += rng.normal(0, 0.3, state.count)
        ratio = typical_density(proposed) - typical_density(draws.typical)
        about = [place for place, prior in enumerate(priors) if prior.centre == centre]
        changes = np.zeros((len(about), state.count))
        for change, k in zip(changes, about, strict=True):
            share, prior = draws.rows[k][:, X], priors[k]
            change += prior.share_density(share, proposed[:, centre])
            change -= prior.share_density(share, draws.typical[:, centre])
        accepted = np.log(rng.random(state.count)) < ratio + changes.sum(axis=0)
        draws.typical = np.where(accepted[:, None], proposed, draws.typical)
        state.beliefs[about] += np.where(accepted, changes, 0.0)


def _move_group(
    state: State, rng: np.random.Generator, power: float, group: int, mine: slice, other: slice
) -> None:
    """One group's shifts of half the particles, by differences of the other half's."""
    rows, prior = state.draws.groups[group], state.told.groups[group]
    proposed = rows[mine] + _differences(rows[other], rng, len(rows[mine]))
    gained = prior.log_density(proposed) - prior.log_density(rows[mine])
    offset = state.told.shifting[group].offset(proposed, state.draws.boots[group][mine])
    accepted, kept = _taken(state, rng, power, mine, _shifted(state, group, mine, offset), gained)
    rows[kept] = proposed[accepted]
    state.offsets[group].put(kept, accepted, offset)


def _shifted(state: State, group: int, mine: slice, offset: Offset) -> dict[int, Terms]:
    """The terms of a group's risks under another offset."""
    told, rows = state.told, state.draws.rows
    return {
        place: told.asked[place].terms(rows[place][mine], offset)
        for place in told.groups[group].shared.risks
    }


def _move_boots(state: State, rng: np.random.Generator, power: float, group: int) -> None:
    """Every boot of one group, each taken or left for itself."""
    told, every = state.told, slice(0, state.count)
    boots, shifting = state.draws.boots[group], told.shifting[group]
    proposed = _KEPT * boots + np.sqrt(1 - _KEPT**2) * rng.standard_normal(boots.shape)
    offset = shifting.offset(state.draws.groups[group], proposed)
    new = _shifted(state, group, every, offset)
    total = _total(state, every, new)
    logs = told.each([new.get(k) or t for k, t in enumerate(state.terms)], total)
    gained = (logs - told.each(state.terms, state.total)) * (told.weights @ _powers(power))
    summed = np.zeros(boots.shape)
    order = np.argsort(shifting.boot, kind="stable")
    present, first = np.unique(shifting.boot[order], return_index=True)
    summed[:, present] = np.add.reduceat(gained[:, order], first, axis=1)
    taken = np.log(rng.random(boots.shape)) < summed
    boots[taken] = proposed[taken]
    runs, points = taken[:, shifting.boot], taken[:, shifting.point_boot]
    np.copyto(state.offsets[group].held, offset.held, where=points)
    np.copyto(state.offsets[group].started, offset.started, where=runs)
    for terms, news in [*((state.terms[k], t) for k, t in new.items()), (state.total, total)]:
        np.copyto(terms.held, news.held, where=points)
        if terms.started is not None and news.started is not None:
            np.copyto(terms.started, news.started, where=runs)
    state.logs[:] = told.logs(state.terms, state.total)
