"""Bayesian edge search: the run whose outcome saves most expected loss per expected minute."""

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from planner.models.edge_search import EdgeSearch
from planner.strategies.strategy import Choice


@dataclass(frozen=True)
class Bayes:
    """One-step look-ahead over pass and failure; a second step gained nothing."""

    modelled: ClassVar[bool] = True

    def keep(self, search: EdgeSearch) -> float | None:
        """The value that costs least in expectation, of those that a pass bears out."""
        return search.borne_out

    def choose(self, search: EdgeSearch) -> Choice | None:
        """The value with the largest expected fall of loss per expected minute."""
        if not search.values:
            return None
        worth = search.worth
        best = int(np.argmax(worth.rates))
        return Choice(worth.values[best], _reason(search, worth.values[best]))


def _reason(search: EdgeSearch, value: float) -> str:
    knob, recommended = search.knob, search.recommended
    span = f"the edge lies 9 to 1 between {knob.show_between(*search.posterior.interval())}"
    if recommended is None:
        return f"nothing is known to hold yet; {span}"
    if value == recommended:
        return f"{knob.show(value)} is the value to keep if it holds; {span}"
    if knob.hardness(value) > knob.hardness(recommended):
        return f"if it holds, {knob.show(recommended)} is left behind; {span}"
    return f"shows whether {knob.show(recommended)} is too much; {span}"
