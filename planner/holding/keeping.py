"""The setting to keep: the best that surely enough meets what is asked, one step back."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from planner.models.claim import claim_for
from planner.models.hazard import Array
from planner.peak.climbing import climbed
from planner.peak.search import PeakSearch
from planner.peak.space import Rows

Sound = Callable[[Rows], NDArray[np.bool_]]
"""Whether each particle has each row meet what is asked of it, shape (m, q) -> (n, m)."""
DOUBT = 0.05
"""How likely the setting to keep may be one that does not meet what is asked."""


def kept_row(search: PeakSearch, sound: Sound, rows: Rows) -> Rows | None:
    """The best row of which it is sure enough, from `rows` on; None where there is none."""
    return climbed(search, rows, lambda r: _values(search, sound, r), lambda mean: mean + 1e-6)


def _values(search: PeakSearch, sound: Sound, rows: Rows) -> Array:
    doubt = 1 - sound(rows).mean(axis=0)
    means, _ = search.expected(search.space.settings(rows))
    return np.where((doubt <= DOUBT) & ~_spoilt(search, rows), means, -np.inf)


def _spoilt(search: PeakSearch, rows: Rows) -> NDArray[np.bool_]:
    """Whether a row failed where a claim is asked for."""
    failed = [run.ran for run in search.nominal_runs if run.outcome.failed]
    spoilt = {
        tuple(row)
        for ran, row in zip(failed, search.space.rows(failed).tolist(), strict=True)
        if claim_for(search, ran).spoilt
    }
    return np.array([tuple(row) in spoilt for row in rows.tolist()], bool)


def stepped_back(search: PeakSearch, row: Rows) -> Rows:
    """Each knob that was taken past where it started one step easier, if that is permitted."""
    start = search.space.rows([search.base])[0]
    easier = np.where(row > start, row - 1, row)
    return easier if search.gate.permits(search.space.setting(easier)) else row
