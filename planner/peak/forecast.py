"""How the evening may go on: many evenings played among the settings worth a look now.

Settings that only later are worth a look are left out.
"""

from dataclasses import dataclass

import numpy as np

from planner.errors import RecordError
from planner.models.edge import LEVEL
from planner.models.hazard import Array
from planner.models.joint.response import Response
from planner.peak.playing import played
from planner.peak.search import PeakSearch
from planner.peak.space import Rows

_SETTINGS = 240
"""So many settings that promise most are played with."""
_AHEAD = 60.0
"""Minutes looked ahead where the study has no end."""
AHEAD = 30.0
"""Minutes of which it is said what they are worth."""
_POINTS = 13


@dataclass(frozen=True)
class Forecast:
    """The best score against minutes to come, as quantiles over played evenings."""

    minutes: tuple[float, ...]
    """From now on."""
    low: tuple[float, ...]
    middle: tuple[float, ...]
    high: tuple[float, ...]
    level: float
    """Probability between `low` and `high`."""
    best: float
    """The best score so far, freed of its luck."""
    worth: float
    """Points that the next half hour is expected to gain."""
    worth_sd: float
    noise: float
    """Run-to-run standard deviation, in points."""


def forecast_of(search: PeakSearch, offered: Rows, minutes: float | None = None) -> Forecast:
    """How an evening may go on for so many minutes; None: for what is left of it.

    `offered`: rows of settings worth a look.

    Raises:
        RecordError: nothing scored yet, or no minutes left.
    """
    if not isinstance(search.response, Response) or not search.scored:
        raise RecordError("a forecast: nothing scored yet, expected one passed run with its score")
    left = search.history.minutes_left
    ahead = (_AHEAD if left is None else left) if minutes is None else minutes
    if ahead <= 0:
        raise RecordError(f"a forecast of {ahead:g} minutes: expected more than none")
    times, scores = evenings_ahead(search, offered, max(ahead, AHEAD))
    score = float(np.exp(search.to_beat))
    half = scores[:, np.searchsorted(times, AHEAD)] - scores[:, 0]
    shown = times <= ahead
    low, middle, high = np.quantile(
        scores[:, shown], [(1 - LEVEL) / 2, 0.5, (1 + LEVEL) / 2], axis=0
    )
    return Forecast(
        minutes=tuple(times[shown].tolist()),
        low=tuple(low.tolist()),
        middle=tuple(middle.tolist()),
        high=tuple(high.tolist()),
        level=LEVEL,
        best=score,
        worth=float(half.mean()),
        worth_sd=float(half.std()),
        noise=search.response.noise * score,
    )


def evenings_ahead(search: PeakSearch, offered: Rows, minutes: float) -> tuple[Array, Array]:
    """Minutes from now, shape (t,), and the best score by then in each evening, (evenings, t)."""
    times = np.unique(np.append(np.linspace(0.0, minutes, _POINTS), AHEAD))
    now, gained = played(search, _promising(search, offered), times)
    return times, np.exp(now[:, None] + gained)


def _promising(search: PeakSearch, offered: Rows) -> Rows:
    worth = search.worth(offered)
    rates = worth.chances * worth.gains / worth.minutes
    return offered[np.argsort(-rates, kind="stable")[:_SETTINGS]]
