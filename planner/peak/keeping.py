"""The setting to keep: the best score among those that pass with the study's target."""

from collections.abc import Callable
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


Enough = Callable[[Rows], NDArray[np.bool_]]
"""Whether each row holds well enough to be kept, shape (m, q) -> (m,)."""


def kept(search: PeakSearch, offered: Rows) -> Kept:
    """The setting to keep, looked for from `offered` on: it passes with the study's target."""

    def enough(rows: Rows) -> NDArray[np.bool_]:
        chances = search.posterior.chances(search.space.settings(rows)).mean(axis=0)
        return np.asarray(chances >= search.history.definition.goal.target)

    return best_of(search, offered, enough)


def best_of(search: PeakSearch, offered: Rows, enough: Enough) -> Kept:
    """The best setting that holds well enough, from `offered` on.

    A choice at which nothing has passed is not kept: no order tells of it.
    """

    def values_of(rows: Rows) -> Array:
        settings = search.space.settings(rows)
        means, _ = search.expected(settings)
        return np.where(enough(rows) & _known(search, settings), means, -np.inf)

    row = climbed(search, offered, values_of, lambda mean: mean + 1e-6)
    if row is None:
        return Kept(search.space.setting(search.space.rows([search.base])[0]), holds=False)
    return Kept(search.space.setting(row), holds=True)


def _known(search: PeakSearch, settings: list[Setting]) -> NDArray[np.bool_]:
    """Whether each choice in them is the one to begin with or has passed."""
    knobs = search.history.definition.knobs.values()
    choices = [knob.name for knob in knobs if knob.harder is Harder.CHOICE]
    passed = [search.base, *(run.ran for run in search.history.evidence if run.outcome.held)]
    known = {name: {setting[name] for setting in passed} for name in choices}
    return np.array([all(s[name] in known[name] for name in choices) for s in settings], bool)
