"""Optuna's tree-structured Parzen estimator, for those who want its samplers.

The only home of optuna. An in-memory study is rebuilt from the history at each ask. A crash is
told as a violated constraint, never as a failed trial: samplers ignore failed trials, and would
ask for what crashed again and again.
"""

import logging
import warnings
from dataclasses import dataclass
from typing import ClassVar

from optuna import create_study, create_trial
from optuna import logging as optuna_logging
from optuna.distributions import IntDistribution
from optuna.exceptions import ExperimentalWarning
from optuna.samplers import TPESampler

from planner.models.edge_search import EdgeSearch
from planner.strategies.strategy import Choice

_PLACE = "place"
"""Name of the one parameter: the index of a permitted value, easiest first."""


@dataclass(frozen=True)
class Tpe:
    """Maximises the hardness of what holds."""

    startup: int = 5
    """Random runs before the estimator speaks."""

    modelled: ClassVar[bool] = True

    def keep(self, search: EdgeSearch) -> float | None:
        """The value that the model recommends: the sampler's best is a lucky pass."""
        return search.borne_out

    def choose(self, search: EdgeSearch) -> Choice | None:
        """The value that the sampler draws next."""
        if not search.values:
            return None
        optuna_logging.set_verbosity(logging.WARNING)
        space = IntDistribution(0, len(search.values) - 1)
        place = {value: index for index, value in enumerate(search.values)}
        told = [
            (place[value], run.outcome.failed)
            for run in search.nominal_runs
            if (value := float(run.ran[search.knob.name])) in place
        ]
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", ExperimentalWarning)
            sampler = TPESampler(seed=_seed(search, len(told)), n_startup_trials=self.startup)
            study = create_study(direction="maximize", sampler=sampler)
            for index, failed in told:
                study.add_trial(
                    create_trial(
                        params={_PLACE: index},
                        distributions={_PLACE: space},
                        value=float(index),
                        constraints={"held": 1.0 if failed else -1.0},
                    )
                )
            index = study.ask({_PLACE: space}).params[_PLACE]
        return Choice(
            search.values[index],
            f"drawn by the Parzen estimator from {len(told)} runs, crashes as violated constraints",
        )


def _seed(search: EdgeSearch, told: int) -> int:
    """The study's seed moved on by the runs told, so that each ask draws anew yet repeats."""
    return (search.history.definition.goal.seed * 1_000_003 + told) % 2**32
