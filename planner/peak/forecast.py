"""How the evening may go on: many evenings played from what is known now.

Each takes one particle and one draw of the score's response for the truth. In it, runs are chosen
by the same rule as the real ones, among settings worth a look now; each run that ends weighs the
particles anew. What a real evening would learn of how the score answers, and settings that only
later are worth a look, are left out, so it is a cautious picture.
"""

from dataclasses import dataclass

import numpy as np

from planner.errors import RecordError
from planner.models.edge import LEVEL
from planner.models.hazard import Array
from planner.models.joint.response import Response
from planner.peak.choosing import caution_of
from planner.peak.search import PeakSearch, expected_rise
from planner.peak.space import Rows

EVENINGS = 160
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
    rows = _promising(search, offered)
    times = np.linspace(0.0, max(ahead, AHEAD), _POINTS)
    times = np.unique(np.append(times, AHEAD))
    gained = _played(search, rows, times)  # (evenings, times)
    score = float(np.exp(search.to_beat))
    scores = score * np.exp(gained)
    half = scores[:, np.searchsorted(times, AHEAD)] - score
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


def _promising(search: PeakSearch, offered: Rows) -> Rows:
    worth = search.worth(offered)
    rates = worth.chances * worth.gains / worth.minutes
    return offered[np.argsort(-rates, kind="stable")[:_SETTINGS]]


def _played(search: PeakSearch, rows: Rows, times: Array) -> Array:
    """Log gains over the best so far by each time, shape (evenings, times)."""
    settings = search.space.settings(rows)
    rng = np.random.default_rng(search.history.told)
    chances = search.posterior.chances(settings)  # (n, m)
    means, sds = search.expected(settings)
    response = search.response
    assert isinstance(response, Response)
    at = response.coordinates(settings)
    drawn = response.draw(at, search.posterior.room, rng, EVENINGS) - search.to_beat
    minutes = search.worth(rows).minutes
    truth = rng.integers(0, len(chances), EVENINGS)
    weights = np.ones((EVENINGS, len(chances)))
    spent, best = np.zeros(EVENINGS), np.zeros(EVENINGS)
    gained = np.zeros((EVENINGS, len(times)))
    known = np.zeros((EVENINGS, len(rows)), bool)
    caution, every = caution_of(search), np.arange(EVENINGS)
    while (going := spent < times[-1]).any():
        believed = weights @ chances / weights.sum(axis=1, keepdims=True)
        over = search.to_beat + best[:, None]
        rates = believed**caution * expected_rise(means, sds, over) / minutes
        rates[known] = 0.0
        pick = np.argmax(rates, axis=1)
        passed = rng.random(EVENINGS) < chances[truth, pick]
        weights *= np.where(passed[:, None], chances[:, pick].T, 1 - chances[:, pick].T)
        weights = np.maximum(weights / weights.max(axis=1, keepdims=True), 1e-12)
        spent = spent + minutes[pick]
        raised = passed & going
        known[every[raised], pick[raised]] = True  # what has scored is no surprise any more
        best = np.where(raised, np.maximum(best, drawn[every, pick]), best)
        gained = np.where(spent[:, None] <= times, best[:, None], gained)
    return gained
