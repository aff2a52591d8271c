"""Other settings that are worth running next, beside the one proposed."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from planner.domain.knob import Setting
from planner.peak.choosing import Pick, picked, ranked
from planner.peak.search import PeakSearch
from planner.peak.space import Rows

_APART = 0.15
"""Two settings that turn the same knobs differ if their chances do so much."""


@dataclass(frozen=True, slots=True)
class Alternative:
    """A setting that a person may run instead."""

    settings: Setting
    changes: int
    """How many values it changes of what the machine holds."""
    pass_probability: float
    minutes: float
    """Expected for the whole attempt."""
    reason: str


def alternatives(
    search: PeakSearch, offered: Rows, asked: Setting, count: int, why: Callable[[Setting], str]
) -> list[Alternative]:
    """The next best settings that differ from each other and from the one `asked` for.

    `offered`: rows to choose from. `why`: what is to be said of a setting.
    """
    if not search.scored:
        return []
    taken = [picked(search, search.space.rows([asked])[0])]
    for row in ranked(search, offered):
        if len(taken) > count:
            break
        one = picked(search, row)
        if all(_apart(search, one, other) for other in taken):
            taken.append(one)
    return [_of(search, one, why) for one in taken[1:]]


def _apart(search: PeakSearch, one: Pick, other: Pick) -> bool:
    """Whether they turn other knobs than the best run's, or are safer or bolder by far."""
    best = search.space.rows([search.scored[0].ran])[0]
    same = bool(np.array_equal(one.row != best, other.row != best))
    return not same or abs(one.chance - other.chance) >= _APART


def _of(search: PeakSearch, one: Pick, why: Callable[[Setting], str]) -> Alternative:
    setting, row = search.space.setting(one.row), one.row[None, :]
    changes = int(search.space.changes(row, search.history.machine)[0])
    return Alternative(setting, changes, one.chance, one.minutes, why(setting))
