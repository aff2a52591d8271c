"""Which setting to run next: the most gain for the minutes, at a chance that is worth a crash."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from planner.models.hazard import Array
from planner.peak.climbing import Values, climbed
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
    left: float = 1.0
    """Share of the gain that the evening's end leaves."""

    @property
    def rate(self) -> float:
        """Expected gain for a minute."""
        return self.chance * self.gain / self.minutes


def pick(search: PeakSearch, offered: Rows) -> Pick | None:
    """The next run; None where nothing is left to gain. `offered`: rows to begin with."""
    if not search.scored:
        return replace(picked(search, search.space.rows([search.base])[0]), gain=0.0)
    values_of = values_among(search, offered)
    first = offered[np.argsort(-values_of(offered))[:_FIRST]]
    best = climbed(search, first, values_of, lambda rate: rate * 1.005)
    return None if best is None else picked(search, best)


def picked(search: PeakSearch, row: Rows) -> Pick:
    """One row with what it promises."""
    worth = search.worth(row[None, :])
    told = (worth.chances, worth.gains, worth.minutes, worth.left)
    return Pick(row, *(float(each[0]) for each in told))


def ranked(search: PeakSearch, offered: Rows) -> list[Rows]:
    """Rows that may be run and have not scored yet, those that promise most first."""
    values = values_among(search, offered)(offered)
    rows = [offered[i] for i in np.argsort(-values, kind="stable") if values[i] > 0]
    return [row for row in rows[:_FIRST] if search.gate.permits(search.space.setting(row))]


def values_among(search: PeakSearch, offered: Rows) -> Values:
    """What rows are worth; minus infinity where nothing is to gain or they change or take too much.

    What scored already raises no best.
    """
    allowed = _most_changes(search, offered)

    def values_of(rows: Rows) -> Array:
        worth = search.worth(rows)
        barred = has_scored(search, rows) | (_changes(search, rows) > allowed)
        barred |= (worth.gains <= 0) | (worth.left <= 0)
        return np.where(barred, -np.inf, _rates(search, worth))

    return values_of


def _rates(search: PeakSearch, worth: Worth) -> Array:
    caution = caution_of(search)
    return np.asarray(worth.chances**caution * worth.gains / worth.minutes * worth.left)


def caution_of(search: PeakSearch) -> float:
    """1 for the bold, more for the cautious."""
    return float(1 + (CAUTION - 1) * 2 * (1 - search.history.definition.goal.boldness))


def _most_changes(search: PeakSearch, offered: Rows) -> float:
    """How many values may change; where nothing is so near, as few as can be."""
    if search.max_changes is None:
        return np.inf
    return float(max(search.max_changes, _changes(search, offered).min(initial=0)))


def _changes(search: PeakSearch, rows: Rows) -> Rows:
    return search.space.changes(rows, search.history.machine)


def has_scored(search: PeakSearch, rows: Rows) -> NDArray[np.bool_]:
    """Whether rows have scored already: a second pass there raises no best."""
    rows_of = search.space.rows([run.ran for run in search.scored])
    known = {
        tuple(row)
        for row, run in zip(rows_of.tolist(), search.scored, strict=True)
        if search.space.setting(row) == run.ran
    }
    return np.array([tuple(row) in known for row in rows.tolist()], bool)
