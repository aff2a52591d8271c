"""Evenings played from what is known now.

Each takes one particle and one draw of the score's response for the truth. In it, runs are chosen
by the same rule as the real ones, among given settings. Each run that ends weighs the particles
anew, and each score tells of the settings that go up and down with it in the draws, as if these
were normal (conditioning a Gaussian: Rasmussen and Williams 2006, section 2.2, from memory).
"""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from planner.models.hazard import Array
from planner.models.joint.response import Response
from planner.peak.choosing import caution_of
from planner.peak.rise import expected_rise
from planner.peak.search import PeakSearch
from planner.peak.space import Rows

_EVENINGS = 160


@dataclass
class Expected:
    """What each evening expects of the settings' log scores, shapes (evenings, m)."""

    covariance: Array
    """Of the settings' scores before anything is played, shape (m, m)."""
    noise: float
    means: Array
    variances: Array
    told: list[Array] = field(default_factory=list)
    """What each score took of the covariance, as its root."""

    def rise(self, over: Array) -> Array:
        """Expected rise over the best of each evening, shape (evenings,) -> (evenings, m)."""
        sds = np.sqrt(np.maximum(self.variances, 1e-12))
        return expected_rise(self.means, sds, over[:, None])

    def tell(self, pick: Rows, scored: NDArray[np.bool_], scores: Array) -> None:
        """Each evening's score at the setting it picked, where it scored; shapes (evenings,)."""
        every = np.arange(len(pick))
        along = self.covariance[pick]
        for root in self.told:
            along = along - root[every, pick, None] * root
        spread = np.sqrt(along[every, pick] + self.noise**2)
        root = np.where(scored[:, None], along / spread[:, None], 0.0)
        self.means = self.means + root * ((scores - self.means[every, pick]) / spread)[:, None]
        self.variances = self.variances - root**2
        self.told.append(root)


def played(search: PeakSearch, rows: Rows, times: Array) -> tuple[Array, Array]:
    """Draws of the best run's log score, (evenings,), and gains by each time, (evenings, t).

    `rows`: the settings that are run.
    """
    settings = search.space.settings(rows)
    rng = np.random.default_rng(search.history.told)
    now, truths = _drawn(search, rows, rng)
    chances = search.posterior.chances(settings)  # (n, m)
    minutes = search.worth(rows).minutes
    expected = _expected(search, truths)
    truth = rng.integers(0, len(chances), _EVENINGS)
    weights = np.ones((_EVENINGS, len(chances)))
    spent, best = np.zeros(_EVENINGS), np.zeros(_EVENINGS)
    gained = np.zeros((_EVENINGS, len(times)))
    known = np.zeros((_EVENINGS, len(rows)), bool)
    caution, every = caution_of(search), np.arange(_EVENINGS)
    while (going := spent < times[-1]).any():
        believed = weights @ chances / weights.sum(axis=1, keepdims=True)
        rates = believed**caution * expected.rise(best) / minutes
        rates[known] = 0.0
        pick = np.argmax(rates, axis=1)
        passed = rng.random(_EVENINGS) < chances[truth, pick]
        weights = _weighed(weights, chances[:, pick].T, passed)
        spent = spent + minutes[pick]
        raised, scores = passed & going, truths[every, pick]
        expected.tell(pick, raised, scores + expected.noise * rng.standard_normal(_EVENINGS))
        known[every[raised], pick[raised]] = True  # what has scored is no surprise any more
        best = np.where(raised, np.maximum(best, scores), best)
        gained = np.where(spent[:, None] <= times, best[:, None], gained)
    return now, gained


def _weighed(weights: Array, chances: Array, passed: NDArray[np.bool_]) -> Array:
    """Weights of the particles after a run at these chances, all of shape (evenings, n)."""
    weights = weights * np.where(passed[:, None], chances, 1 - chances)
    return np.asarray(np.maximum(weights / weights.max(axis=1, keepdims=True), 1e-12))


def _drawn(search: PeakSearch, rows: Rows, rng: np.random.Generator) -> tuple[Array, Array]:
    """Draws of the best run's log score, (evenings,), and of the rows' over it, (evenings, m)."""
    response, room = _response(search), search.posterior.room
    ran = response.coordinates([run.ran for run in search.scored])
    means, sds = response.predict(ran, room)
    best = int(np.argmax(means))
    at = response.coordinates(search.space.settings(rows))
    drawn = response.draw(np.vstack([at, ran[best]]), room, rng, _EVENINGS)
    now = drawn[:, -1]
    # Draws leave out what is not known about their mean: what luck the best run had, mostly.
    luck = np.sqrt(max(float(sds[best] ** 2 - now.var()), 0.0))
    return now + luck * rng.standard_normal(_EVENINGS), drawn[:, :-1] - now[:, None]


def _expected(search: PeakSearch, truths: Array) -> Expected:
    means = np.repeat(truths.mean(axis=0)[None, :], _EVENINGS, axis=0)
    variances = np.repeat(truths.var(axis=0)[None, :], _EVENINGS, axis=0)
    return Expected(np.cov(truths.T, ddof=0), _response(search).noise, means, variances)


def _response(search: PeakSearch) -> Response:
    assert isinstance(search.response, Response)
    return search.response
