"""The table of strategies: adding one is one file and one line here."""

from collections.abc import Callable, Mapping

from planner.strategies.bayes import Bayes
from planner.strategies.bisection import Bisection
from planner.strategies.strategy import Choice, Strategy

__all__ = ["STRATEGIES", "Choice", "Strategy"]


def _tpe() -> Strategy:
    from planner.strategies.tpe import Tpe  # optuna takes a quarter of a second to load

    return Tpe()


STRATEGIES: Mapping[str, Callable[[], Strategy]] = {
    "bayes": Bayes,
    "bisection": Bisection,
    "tpe": _tpe,
}
