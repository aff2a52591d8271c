"""The best once more, where the evening's end leaves room for little else."""

from planner.models.claim import claim_for
from planner.peak.attempts import anew
from planner.peak.choosing import Pick, picked
from planner.peak.search import PeakSearch

_ENOUGH = 2
"""Runs at the best setting after which it is left at that."""


def confirming(search: PeakSearch, best: Pick | None) -> Pick | None:
    """One more run of the best; None where something else is worth more, or it has had two.

    It is due once nothing more would fit after the setting to try, `best`, and that is worth less
    than runs differ by.
    """
    left, response = search.history.minutes_left, search.response
    if left is None or response is None or not search.scored:
        return None
    setting = search.scored[0].ran
    again, row = anew(search.history, setting), search.space.rows([setting])[0]
    if left >= again + (again if best is None else best.minutes):
        return None
    if best is not None and best.chance * best.gain >= response.noise:
        return None
    if search.space.setting(row) != setting or claim_for(search, setting).runs >= _ENOUGH:
        return None
    found = picked(search, row)
    return found if found.left > 0 else None
