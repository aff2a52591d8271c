"""From the best of some settings on, knob by knob, to one that no neighbour betters."""

from collections.abc import Callable

import numpy as np

from planner.models.hazard import Array
from planner.peak.candidates import neighbours
from planner.peak.search import PeakSearch
from planner.peak.space import Rows

_CLIMBS = 13

Values = Callable[[Rows], Array]
"""What rows are worth, shape (m, q) -> (m,); minus infinity for what must not be kept."""


def climbed(
    search: PeakSearch, rows: Rows, values_of: Values, enough: Callable[[float], float]
) -> Rows | None:
    """The row where it ends; None where no row is permitted and worth anything.

    `enough` gives, for the worth of a row, what another must exceed to take its place.
    """
    best, least = None, -np.inf
    for _ in range(_CLIMBS):
        values = values_of(rows)
        for place in np.argsort(-values):
            if values[place] <= least:
                return best
            if search.gate.permits(search.space.setting(rows[place])):
                break
        else:
            return best
        best, least = rows[place], enough(float(values[place]))
        rows = neighbours(search.space, best)
    return best
