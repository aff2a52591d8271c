"""Other settings that are worth running next, beside the one proposed."""

from dataclasses import dataclass

import numpy as np

from planner.domain.knob import Setting
from planner.peak.asking import why
from planner.peak.choosing import Pick, picked, ranked
from planner.peak.plan import PeakPlan
from planner.peak.search import PeakSearch

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


def alternatives(plan: PeakPlan, count: int) -> list[Alternative]:
    """The next best settings that differ from each other, the one asked for left out."""
    search, best = plan.search, plan.chosen
    if best is None or not search.scored:
        return []
    taken = [best]
    for row in ranked(search, plan.offered):
        if len(taken) > count:
            break
        one = picked(search, row)
        if all(_apart(search, one, other) for other in taken):
            taken.append(one)
    return [_of(search, one) for one in taken[1:]]


def _apart(search: PeakSearch, one: Pick, other: Pick) -> bool:
    """Whether they turn other knobs than the best run's, or are safer or bolder by far."""
    best = search.space.rows([search.scored[0].ran])[0]
    same = bool(np.array_equal(one.row != best, other.row != best))
    return not same or abs(one.chance - other.chance) >= _APART


def _of(search: PeakSearch, one: Pick) -> Alternative:
    setting, row = search.space.setting(one.row), one.row[None, :]
    changes = int(search.space.changes(row, search.history.machine)[0])
    return Alternative(setting, changes, one.chance, one.minutes, why(search, setting))
