"""The setting to keep: the best that surely enough meets what is asked."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from planner.models.claim import claim_for
from planner.peak.keeping import Kept, best_of
from planner.peak.search import PeakSearch
from planner.peak.space import Rows

Sound = Callable[[Rows], NDArray[np.bool_]]
"""Whether each particle has each row meet what is asked of it, shape (m, q) -> (n, m)."""
DOUBT = 0.1
"""Share of particles in which the setting to keep may not meet what is asked.

What it costs to be this sure is measured in studies/evidence/everyday.
"""


_SHARES = (0.25, 0.5, 0.7, 0.85)
_STEPS = (1, 2, 3, 5)
"""Shares of the way, and steps back, at which milder settings are looked at."""


def kept(search: PeakSearch, sound: Sound, offered: Rows) -> Kept:
    """The best setting of which it is sure enough, from `offered` on."""
    return best_of(
        search,
        offered,
        lambda rows: (1 - sound(rows).mean(axis=0) <= DOUBT) & ~_spoilt(search, rows),
    )


def _spoilt(search: PeakSearch, rows: Rows) -> NDArray[np.bool_]:
    """Whether a row failed where a claim is asked for."""
    failed = [run.ran for run in search.nominal_runs if run.outcome.failed]
    spoilt = {
        tuple(row)
        for ran, row in zip(failed, search.space.rows(failed).tolist(), strict=True)
        if claim_for(search, ran).spoilt
    }
    return np.array([tuple(row) in spoilt for row in rows.tolist()], bool)


def backed_off(search: PeakSearch, rows: Rows) -> Rows:
    """From where the search started to each of some rows, by shares of the way and by steps."""
    start = search.space.rows([search.base])[0]
    away = rows - start
    found = [start + np.rint(share * away).astype(np.intp) for share in _SHARES]
    found += [start + np.sign(away) * np.maximum(np.abs(away) - n, 0) for n in _STEPS]
    return np.concatenate(found)
