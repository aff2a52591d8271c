"""The table of strategies: adding one is one file and one line here."""

from collections.abc import Callable, Mapping

from planner.errors import DefinitionError
from planner.models.edge_search import EdgeSearch
from planner.strategies.bayes import Bayes
from planner.strategies.bisection import Bisection
from planner.strategies.strategy import Choice, Strategy

__all__ = ["STRATEGIES", "Choice", "Strategy", "strategy_of"]


def _tpe() -> Strategy:
    from planner.strategies.tpe import Tpe  # optuna takes a quarter of a second to load

    return Tpe()


STRATEGIES: Mapping[str, Callable[[], Strategy]] = {
    "bayes": Bayes,
    "bisection": Bisection,
    "tpe": _tpe,
}


def strategy_of(search: EdgeSearch) -> Strategy:
    """The strategy that the study names.

    Raises:
        DefinitionError: there is none of that name.
    """
    name = search.history.definition.goal.strategy
    if name not in STRATEGIES:
        raise DefinitionError(
            f"study.toml: [study]: strategy = {name!r}: expected one of " + ", ".join(STRATEGIES)
        )
    return STRATEGIES[name]()
