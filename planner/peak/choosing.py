"""Which setting to run next: the most gain for the minutes, at a chance that is worth a crash."""

from dataclasses import dataclass

import numpy as np

from planner.models.hazard import Array
from planner.peak.candidates import candidates, neighbours
from planner.peak.search import PeakSearch, Worth
from planner.peak.space import Rows

CAUTION = 2.0
"""Power to which a chance is raised at the usual boldness."""
_CLIMBS = 12


@dataclass(frozen=True)
class Pick:
    """A setting to run."""

    row: Rows
    chance: float
    gain: float
    minutes: float


def pick(search: PeakSearch) -> Pick | None:
    """The next run; None where nothing is left to gain."""
    if not search.scored:
        row = search.space.rows([search.base])
        worth = search.worth(row)
        return Pick(row[0], float(worth.chances[0]), 0.0, float(worth.minutes[0]))
    rows = candidates(search)
    rows = _unseen(search, rows)
    worth = search.worth(rows)
    order = np.argsort(-_rates(search, worth))
    for start in order[:40]:
        if search.gate.permits(search.space.setting(rows[start])):
            return _climbed(search, rows[start])
    return None


def _rates(search: PeakSearch, worth: Worth) -> Array:
    caution = caution_of(search)
    return np.asarray(worth.chances**caution * worth.gains / worth.minutes)


def caution_of(search: PeakSearch) -> float:
    """1 for the bold, more for the cautious."""
    return float(1 + (CAUTION - 1) * 2 * (1 - search.history.definition.goal.boldness))


def _climbed(search: PeakSearch, row: Rows) -> Pick:
    best = search.worth(row[None, :])
    rate = float(_rates(search, best)[0])
    for _ in range(_CLIMBS):
        near = _unseen(search, neighbours(search.space.sizes, row))
        worth = search.worth(near)
        rates = _rates(search, worth)
        for place in np.argsort(-rates):
            if rates[place] <= rate * 1.005:
                return _picked(row, best)
            if search.gate.permits(search.space.setting(near[place])):
                break
        else:
            return _picked(row, best)
        row, rate = near[place], float(rates[place])
        best = search.worth(row[None, :])
    return _picked(row, best)


def _picked(row: Rows, worth: Worth) -> Pick:
    return Pick(row, float(worth.chances[0]), float(worth.gains[0]), float(worth.minutes[0]))


def _unseen(search: PeakSearch, rows: Rows) -> Rows:
    """Rows that have not scored yet: a second pass there raises no best."""
    known = {tuple(r) for r in search.space.rows([run.ran for run in search.scored]).tolist()}
    keep = [tuple(row) not in known for row in rows.tolist()]
    return rows[np.array(keep, bool)] if len(rows) else rows
