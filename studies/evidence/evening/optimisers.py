"""General optimisers: a crash is a violated constraint; the supports are theirs to set too."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import optuna
from bench import Bench

from planner.domain.knob import Knob, Value


def with_sampler(make: Callable[[int], optuna.samplers.BaseSampler]) -> Callable[[Bench], None]:
    """A competitor from a sampler's maker; the first run is at stock, as a person would start."""

    def play(bench: Bench) -> None:
        optuna.logging.set_verbosity(optuna.logging.ERROR)
        study = optuna.create_study(direction="maximize", sampler=make(bench.rig.seed))
        knobs = bench.rig.knobs
        offered = {name: _permitted(knob) for name, knob in knobs.items()}
        study.enqueue_trial({n: offered[n].index(k.stock) for n, k in knobs.items()})
        lowest = None
        while not bench.over:
            trial = study.ask()
            chosen = {n: vs[trial.suggest_int(n, 0, len(vs) - 1)] for n, vs in offered.items()}
            result = bench.run(chosen)
            trial.set_constraint("holds", -1.0 if result.outcome == "pass" else 1.0)
            lowest = result.score if lowest is None else min(lowest, result.score or lowest)
            study.tell(trial, result.score if result.score is not None else lowest or 0.0)

    return play


def at_random(bench: Bench) -> None:
    """Stock, then anything between stock and the hardest value."""
    rng = np.random.default_rng(bench.rig.seed)
    bench.run(bench.rig.stock)
    while not bench.over:
        chosen = {}
        for name, knob in bench.rig.knobs.items():
            values = _permitted(knob)
            chosen[name] = values[int(rng.integers(values.index(knob.stock), len(values)))]
        bench.run(chosen)


def tpe(seed: int) -> optuna.samplers.BaseSampler:
    """Tree-structured Parzen estimator, all knobs at once."""
    return optuna.samplers.TPESampler(seed=seed)


def evolving(seed: int) -> optuna.samplers.BaseSampler:
    """NSGA-II, which takes constraints, in small generations."""
    return optuna.samplers.NSGAIISampler(population_size=10, seed=seed)


def _permitted(knob: Knob) -> list[Value]:
    top = knob.ceilings.everyday
    return [v for v in knob.values if top is None or float(v) <= top]
