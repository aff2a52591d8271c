"""The setting to keep: the best score among those that pass with the study's target."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.domain.knob import Harder, Setting
from planner.models.hazard import Array
from planner.peak.climbing import climbed
from planner.peak.search import PeakSearch
from planner.peak.space import Rows


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

    A choice at which nothing has passed is not kept: no order tells of it.
    """
    settings = search.space.settings(rows)
    chances = search.posterior.chances(settings).mean(axis=0)
    response = search.response
    mean = np.zeros(len(rows))
    if response is not None:
        mean, _ = response.predict(response.coordinates(settings), search.posterior.room)
    enough = chances >= search.history.definition.goal.target
    return np.where(enough & _known(search, settings), mean, -np.inf)


def _known(search: PeakSearch, settings: list[Setting]) -> NDArray[np.bool_]:
    """Whether each choice in them is the one to begin with or has passed."""
    knobs = search.history.definition.knobs.values()
    choices = [knob.name for knob in knobs if knob.harder is Harder.CHOICE]
    passed = [search.base, *(run.ran for run in search.history.evidence if run.outcome.held)]
    known = {name: {setting[name] for setting in passed} for name in choices}
    return np.array([all(s[name] in known[name] for name in choices) for s in settings], bool)
