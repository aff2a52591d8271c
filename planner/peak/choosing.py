"""Which setting to run next: the most gain for the minutes, at a chance that is worth a crash."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.models.hazard import Array
from planner.peak.climbing import climbed
from planner.peak.search import PeakSearch, Worth
from planner.peak.space import Rows

CAUTION = 2.0
"""Power to which a chance is raised at the usual boldness."""
_FIRST = 40
"""So many settings are asked of the gate to begin with."""


@dataclass(frozen=True)
class Pick:
    """A setting to run."""

    row: Rows
    chance: float
    gain: float
    minutes: float


def pick(search: PeakSearch, offered: Rows) -> Pick | None:
    """The next run; None where nothing is left to gain. `offered`: rows to begin with."""
    if not search.scored:
        row = search.space.rows([search.base])
        worth = search.worth(row)
        return Pick(row[0], float(worth.chances[0]), 0.0, float(worth.minutes[0]))

    def values_of(rows: Rows) -> Array:
        return np.where(_scored(search, rows), -np.inf, _rates(search, search.worth(rows)))

    first = offered[np.argsort(-values_of(offered))[:_FIRST]]
    best = climbed(search, first, values_of, lambda rate: rate * 1.005)
    if best is None:
        return None
    worth = search.worth(best[None, :])
    return Pick(best, float(worth.chances[0]), float(worth.gains[0]), float(worth.minutes[0]))


def _rates(search: PeakSearch, worth: Worth) -> Array:
    caution = caution_of(search)
    return np.asarray(worth.chances**caution * worth.gains / worth.minutes)


def caution_of(search: PeakSearch) -> float:
    """1 for the bold, more for the cautious."""
    return float(1 + (CAUTION - 1) * 2 * (1 - search.history.definition.goal.boldness))


def _scored(search: PeakSearch, rows: Rows) -> NDArray[np.bool_]:
    """Whether rows have scored already: a second pass there raises no best."""
    known = {tuple(r) for r in search.space.rows([run.ran for run in search.scored]).tolist()}
    return np.array([tuple(row) in known for row in rows.tolist()], bool)
