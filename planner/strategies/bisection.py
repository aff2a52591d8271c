"""Bounded bisection with confirming passes: few assumptions, every outcome taken at its word.

A value that failed once counts as failing, whatever else it did: one lucky pass is not
stability. Cuts are placed for the least expected minutes where a failure costs more than a pass
(`planner.trade.search_cost`).
"""

from dataclasses import dataclass
from typing import ClassVar

from planner.models.edge_search import EdgeSearch
from planner.strategies.strategy import Choice
from planner.trade.search_cost import best_split


@dataclass(frozen=True)
class Bisection:
    """Closes the bracket between the hardest pass and the easiest failure, then confirms."""

    passes: int = 3
    """Passes in a row that the value below the bracket must show, the first included."""

    modelled: ClassVar[bool] = False

    def keep(self, search: EdgeSearch) -> float | None:
        """The hardest value that held, below everything that failed."""
        best = _bracket(search).best
        return None if best < 0 else search.values[best]

    def choose(self, search: EdgeSearch) -> Choice | None:
        """The next cut, then the confirming runs; None when both are done."""
        bracket = _bracket(search)
        if bracket.first_failure - bracket.best > 1:
            return _cut(search, bracket.best, bracket.first_failure)
        if bracket.best < 0 or bracket.passes >= self.passes:
            return None
        value = search.values[bracket.best]
        return Choice(
            value,
            f"confirms {search.knob.show(value)}: {bracket.passes} of {self.passes} passes,"
            " nothing between it and the first failure",
        )


@dataclass(frozen=True, slots=True)
class _Bracket:
    best: int
    """Index of the hardest value that held, below every failure; -1: none."""
    first_failure: int
    """Index of the easiest value that failed; one past the hardest where none did."""
    passes: int
    """How often the best one held."""


def _bracket(search: EdgeSearch) -> _Bracket:
    held, failed = _counts(search)
    first_failure = next((i for i, n in enumerate(failed) if n), len(failed))
    best = max((i for i in range(first_failure) if held[i]), default=-1)
    return _Bracket(best, first_failure, held[best] if best >= 0 else 0)


def _counts(search: EdgeSearch) -> tuple[list[int], list[int]]:
    """How often each permitted value held and failed."""
    place = {value: index for index, value in enumerate(search.values)}
    held, failed = [0] * len(place), [0] * len(place)
    for run in search.nominal_runs:
        index = place.get(float(run.ran[search.knob.name]))
        if index is not None:
            (failed if run.outcome.failed else held)[index] += 1
    return held, failed


def _cut(search: EdgeSearch, best: int, first_failure: int) -> Choice:
    cells = first_failure - best
    pass_minutes, fail_minutes = search.costs.branches(
        search.setting(search.values[(best + first_failure) // 2]),
        search.history.definition.workload.minutes,
    )
    index = best + best_split(cells, pass_minutes, fail_minutes)
    return Choice(search.values[index], f"cuts the range from {_ends(search, best, first_failure)}")


def _ends(search: EdgeSearch, best: int, first_failure: int) -> str:
    show, values = search.knob.show, search.values
    low = f"{show(values[best])}, which held," if best >= 0 else f"{show(values[0])}, untried,"
    if first_failure < len(values):
        return f"{low} to {show(values[first_failure])}, which failed"
    return f"{low} to {show(values[-1])}, the hardest permitted value"
