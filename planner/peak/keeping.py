"""The setting to keep: the best score among those that pass with the study's target."""

from dataclasses import dataclass

import numpy as np

from planner.domain.knob import Setting
from planner.models.hazard import Array
from planner.peak.climbing import climbed
from planner.peak.search import PeakSearch
from planner.peak.space import Rows

_DOUBT = 0.25
"""What a standard deviation of the log score is held to cost."""


@dataclass(frozen=True, slots=True)
class Kept:
    """The setting to keep."""

    setting: Setting
    holds: bool
    """Whether it passes with the target; the stock setting stands where none does."""


def kept(search: PeakSearch, offered: Rows) -> Kept:
    """The setting to keep, looked for from `offered` on."""
    row = climbed(search, offered, lambda rows: _values(search, rows), lambda mean: mean + 1e-6)
    if row is None:
        return Kept(search.space.setting(search.space.rows([search.base])[0]), holds=False)
    return Kept(search.space.setting(row), holds=True)


def _values(search: PeakSearch, rows: Rows) -> Array:
    """Expected log score of the rows that pass often enough, minus infinity of the others.

    A little less for what is not known of it, so that nothing is kept that is only not worse.
    """
    settings = search.space.settings(rows)
    chances = search.posterior.chances(settings).mean(axis=0)
    response = search.response
    mean = np.zeros(len(rows))
    if response is not None:
        mean, sd = response.predict(response.coordinates(settings), search.posterior.room)
        mean = mean - _DOUBT * sd
    return np.where(chances >= search.history.definition.goal.target, mean, -np.inf)
