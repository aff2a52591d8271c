"""Ways to a score: chances over several tries, and knobs that were all moved at once."""

from math import exp, inf, log
from typing import Any

import numpy as np
import pytest

from planner import Study
from planner.models.scores.answering import Holding, Level
from planner.models.scores.gap import GapTable
from planner.models.scores.trying import in_time, reaches

SURE = Level(mean=log(1100), error=0.0, noise=0.0, freedom=inf)


def holding(*chances: float) -> Holding:
    return Holding(np.array(chances), np.full(len(chances), 1 / len(chances)), 5.0)


def test_tries_at_a_known_edge_are_independent() -> None:
    """1 - (1 - p)^n, textbook."""
    assert in_time(holding(0.3), SURE, log(1000), 4) == pytest.approx(1 - 0.7**4)
    assert in_time(holding(0.3), SURE, log(1200), 4) == 0


def test_tries_share_what_is_not_known_of_the_edge() -> None:
    """It holds always or never, even odds: a hundred tries are worth one."""
    for tries in (1, 100):
        assert in_time(holding(0.0, 1.0), SURE, log(1000), tries) == pytest.approx(0.5)


def test_tries_share_what_is_not_known_of_the_mean() -> None:
    """Against the same drawn at random: one mean for an evening, fresh noise for each run."""
    level, goal, tries = Level(0.0, 0.02, 0.01, 5.0), 0.015, 6
    rng = np.random.default_rng(5)
    means = level.error * rng.standard_t(5, 40_000)
    runs = means[:, None] + level.noise * rng.standard_normal((40_000, tries))
    held = rng.random((40_000, tries)) < 0.4
    drawn = float(((runs > goal) & held).any(axis=1).mean())
    assert in_time(holding(0.4), level, goal, tries) == pytest.approx(drawn, abs=0.012)


def test_one_try_is_a_pass_and_a_score() -> None:
    """The product of both chances, the mean's error and the noise together."""
    level = Level(0.0, 0.02, 0.01, inf)
    both = 0.4 * reaches(level, 0.01)
    assert in_time(holding(0.4), level, 0.01, 1) == pytest.approx(both, abs=2e-3)


ELASTICITY = {"core": 0.5, "graphics": 0.2, "cache": 0.0}


def attempt(seed: int = 0, bend: float = 0.0, top: int = 9, runs: int = 12, **study: Any) -> Study:
    """A peak attempt whose runs moved all knobs at once; `bend`: score lost at the core's top."""
    rng = np.random.default_rng(seed)
    knob = {"unit": "MHz", "low": 4000, "high": 5000, "step": 50, "stock": 4200, "where": "live"}
    made = Study.create(
        {
            "study": {"name": "box", "aim": "peak", **study},
            "knob": [knob | {"name": name} for name in ELASTICITY],
            "workload": [{"name": "loop", "minutes": 5}],
        }
    )
    for _ in range(runs):
        setting = {name: float(4200 + 50 * rng.integers(0, top)) for name in ELASTICITY}
        made.record("pass", settings=setting, score=score_at(setting, bend, rng))
    return made


def score_at(setting: dict[str, float], bend: float = 0.0, rng: Any = None) -> float:
    """The score by its elasticities, less a square beyond 4500 MHz of core."""
    total = sum(e * log(setting[name] / 4200) for name, e in ELASTICITY.items())
    total -= bend * max(0.0, (setting["core"] - 4500) / 500) ** 2
    return float(10_000 * exp(total) * (1 if rng is None else rng.normal(1, 5e-4)))


def gap_of(study: Study, ratio: float) -> GapTable:
    best = max(run.score or 0.0 for run in study.history.runs)
    table = study.gap(beat=[("mine", best * ratio)])
    assert table is not None
    return table


@pytest.mark.parametrize("seed", range(3))
def test_a_peak_attempt_is_answered_by_all_knobs_together(seed: int) -> None:
    """The truth lies within the slopes' intervals; the knob that moves nothing is left out."""
    table = gap_of(attempt(seed), 1.01)
    assert not isinstance(table.response, str)
    for slope in table.response.slopes:
        true = ELASTICITY[slope.knob] * log(1 + 50 / float(table.best.ran[slope.knob]))
        assert abs(slope.per_step - true) < 3 * slope.error
    core = table.targets[0].knobs[0]
    assert core.knob == "core"
    assert "cache" not in [gap.knob for gap in table.targets[0].knobs]
    there = {**table.best.ran, "core": core.value}
    assert score_at(there) == pytest.approx(table.targets[0].score, rel=3e-3)  # type: ignore[arg-type]
    assert core.pass_probability is not None


def test_chances_of_a_bounded_evening() -> None:
    """Six tries of five minutes are worth more than one, and less than six independent ones."""
    study = attempt(minutes=12 * 5 + 32)
    (core, *_) = gap_of(study, 1.005).targets[0].knobs
    assert core.pass_probability is not None
    assert core.in_time is not None
    assert core.tries is not None
    once = core.pass_probability * core.beats
    assert once - 2e-3 <= core.in_time <= 1 - (1 - once) ** core.tries + 2e-3


def test_a_score_that_bends_down_is_no_way() -> None:
    """Core loses past 4500 MHz: 3 % more, five steps by its slope below, are nowhere."""
    table = gap_of(attempt(bend=0.06, top=17, runs=40), 1.03)
    assert [gap.value for gap in table.targets[0].knobs if gap.knob == "core"] in ([], [None])


def test_one_scored_run_of_a_peak_attempt_tells_no_knob() -> None:
    """Said so, as for any other aim."""
    assert gap_of(attempt(runs=1), 1.01).response == "the scored runs vary no knob"
