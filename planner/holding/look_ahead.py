"""Which run betters the setting to keep most for its minutes.

Each particle says of each setting whether it is sound. A run, or a streak of passes, weighs the
particles anew, and with them how sure each setting is; the worth of a run is what the best setting
is expected to gain by that (Raiffa and Schlaifer 1961, from memory). Doubt costs in proportion, so
that telling what lies further but may be unsound is worth something.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.holding.keeping import Sound
from planner.models.hazard import Array
from planner.peak.search import PeakSearch
from planner.peak.space import Rows

_STREAKS = (1, 2, 4)
"""Numbers of passes in a row that are weighed; the first failure ends one."""
_DOUBT_COSTS = 0.3
"""Of the log worth, where it is certain that a setting does not meet what is asked."""
_LIKELY = (0.05, 0.995)
"""A run whose end is surer than that tells nothing."""


@dataclass(frozen=True)
class Look:
    """A run that would tell."""

    row: Rows
    rate: float
    """Expected rise of the log worth of the setting to keep, doubt counted, for a minute."""


def best_look(search: PeakSearch, sounds: Sound, rows: Rows) -> Look | None:
    """The best run among rows; None where none betters anything."""
    settings = search.space.settings(rows)
    means, _ = search.expected(settings)
    sound = sounds(rows).astype(np.float32)
    chances = search.posterior.chances(settings)  # (n, m)
    once = search.worth(rows).minutes
    now = _best(means, sound.mean(axis=0)[None, :])[0]
    overall = chances.mean(axis=0)
    tried = np.flatnonzero((overall > _LIKELY[0]) & (overall < _LIKELY[1]))
    rates = np.full(len(rows), -np.inf)
    for streak in _STREAKS:
        held = chances[:, tried] ** streak
        passed = held.mean(axis=0)
        worth = passed * _best(means, _weighed(held, sound))
        worth = worth + (1 - passed) * _best(means, _weighed(1 - held, sound))
        rate = (worth - now) / _streak_minutes(search, chances[:, tried], once[tried], streak)
        rates[tried] = np.maximum(rates[tried], rate)
    for place in np.argsort(-rates):
        if rates[place] <= 0:
            break
        if search.gate.permits(settings[place]):
            return Look(rows[place], rates[place])
    return None


def _best(means: Array, sure: Array) -> Array:
    """The best worth under each row of how sure settings are, shape (x, m) -> (x,)."""
    return np.asarray((means - _DOUBT_COSTS * (1 - sure)).max(axis=1))


def _weighed(likelihood: Array, sound: NDArray[np.float32]) -> Array:
    """How sure each setting is once an end of each run is known, (n, x), (n, m) -> (x, m)."""
    total = np.maximum(likelihood.sum(axis=0), 1e-12)
    return np.asarray((likelihood / total).astype(np.float32).T @ sound)


def _streak_minutes(search: PeakSearch, chances: Array, once: Array, streak: int) -> Array:
    """Expected minutes: after a pass the next run needs no dialling."""
    length = search.history.definition.workload.minutes
    again = sum(((chances**i).mean(axis=0) for i in range(1, streak)), np.zeros(len(once)))
    return np.asarray(once + again * length)
