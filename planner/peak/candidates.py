"""Settings worth a look: jumps of many knobs, of one group, single steps.

Chances nearly factor over the knobs, so for any price of a bit of risk the best setting takes each
knob as far as its own gain pays for its own risk. A row of prices gives settings from bold to
cautious; with each, all knobs move, or those of one group, or one.
"""

import numpy as np

from planner.domain.knob import Setting
from planner.models.hazard import Array
from planner.peak.following import followed
from planner.peak.search import PeakSearch
from planner.peak.space import Rows, Space

_PRICES = np.geomspace(0.001, 0.3, 14)
_NEAR = (-2, -1, 1, 2, 4, 8)
"""Steps of one knob away from a base."""
_SUPPORTS = (0.0, 0.35, 0.7, 1.0)
"""Shares of the permitted way at which supports are tried."""


def candidates(search: PeakSearch) -> Rows:
    """Rows of settings, each once, the machine's and the best run's neighbours among them."""
    space = search.space
    bases = space.rows(_bases(search))
    found = [bases, *(_steps(space, base, _NEAR) for base in bases)]
    for base in bases:
        for lifted in _lifted(search, base):
            jumps = _priced(search, lifted)
            found += [jumps, _grouped(search, base, jumps)]
    rows = np.concatenate(found)
    return np.unique(rows, axis=0)


def _bases(search: PeakSearch) -> list[Setting]:
    """The settings that others are looked for beside."""
    if search.terms.start is not None:
        return [search.base]
    found = [run.ran for run in search.scored[:2]] or [search.base]
    if search.max_changes is not None:
        found.append({**search.base, **search.history.machine})
    return found


def neighbours(space: Space, row: Rows) -> Rows:
    """The rows that differ in one knob by up to three values, what follows it brought along."""
    return np.unique(_steps(space, row, (-3, -2, -1, 1, 2, 3)), axis=0)


def _steps(space: Space, row: Rows, moves: tuple[int, ...]) -> Rows:
    """One knob moved, alone and with what follows it."""
    found = []
    for q, size in enumerate(space.sizes):
        for move in moves:
            if 0 <= row[q] + move < size:
                moved = row.copy()
                moved[q] += move
                found.append(moved)
    alone = np.array(found, np.intp).reshape(len(found), len(row))
    return np.concatenate([alone, followed(space, alone, row)])


def _lifted(search: PeakSearch, base: Rows) -> list[Rows]:
    """The base with its supports at several places up to what is permitted."""
    space = search.space
    supports = [q for q, knob in enumerate(space.knobs) if search.wish.lifts(knob)]
    rows = [base]
    for share in _SUPPORTS:
        row = base.copy()
        for q in supports:
            stock = space.rows([space.base])[0, q]
            row[q] = round(stock * (1 - share))  # the easiest value, a high voltage, comes first
        rows.append(row)
    return list(np.unique(np.array(rows), axis=0))


def _priced(search: PeakSearch, base: Rows) -> Rows:
    """For each price the best values knob by knob, beside `base`."""
    rows = np.repeat(base[None, :], len(_PRICES), axis=0)
    free = [q for q, knob in enumerate(search.space.knobs) if not search.wish.lifts(knob)]
    for q, (gains, risks) in zip(free, _curves(search, base, free), strict=True):
        worth = gains[None, :] - _PRICES[:, None] * risks[None, :]
        rows[:, q] = np.argmax(worth, axis=1)
    return followed(search.space, rows, base)


def _curves(search: PeakSearch, base: Rows, free: list[int]) -> list[tuple[Array, Array]]:
    """For each free knob, log score and log risk of its values, the others at `base`."""
    space, response = search.space, search.response
    sizes = [int(space.sizes[q]) for q in free]
    lines = np.repeat(base[None, :], sum(sizes), axis=0)
    ends = np.cumsum(sizes).tolist()
    for q, size, end in zip(free, sizes, ends, strict=True):
        lines[end - size : end, q] = np.arange(size)
    settings = space.settings(followed(space, lines, base))
    felt = search.posterior.felt(settings)
    _, holds = search.posterior.log_chances(felt, slice(None, None, 3))
    chances = np.split(np.exp(holds).mean(axis=0), ends[:-1])
    risks = [-np.log(np.maximum(c / max(c.max(), 1e-9), 1e-9)) for c in chances]
    if response is None:
        return [(np.zeros(len(risk)), risk) for risk in risks]
    mean, sd = response.predict(response.coordinates(settings), search.posterior.room)
    return list(zip(np.split(mean + 0.3 * sd, ends[:-1]), risks, strict=True))


def _grouped(search: PeakSearch, base: Rows, jumps: Rows) -> Rows:
    """The base with one group's or one knob's values of each jump."""
    knobs = search.space.knobs
    groups = dict.fromkeys(knob.group for knob in knobs)
    masks = [[knob.group == group for knob in knobs] for group in groups]
    masks += [[k is knob for k in knobs] for knob in knobs]
    found = [np.where(np.array(mask), jumps, base) for mask in masks]
    led = [followed(search.space, rows, base) for rows in found[len(groups) :]]
    return np.concatenate([*found, *led])
