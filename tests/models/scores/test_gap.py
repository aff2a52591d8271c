"""The gap table: what is noise, what would close a gap, and what is said when it is not known."""

import numpy as np
import pytest

from planner.domain.combining import Combining
from planner.models.scores.composite import Composite
from planner.models.scores.gap import GapTable, Target
from planner.models.scores.response import Response
from planner.trade.scores.combined import total
from tests.models.scores.bench import WEIGHTS, scored_study

CLOCKS = [4200, 4200, 4300, 4300, 4400, 4400, 4400, 4500.0]
TOLD = {"combine": "harmonic", "subscores": WEIGHTS}


def table_of(clocks: list[float] = CLOCKS, *beat: float, **given: object) -> GapTable:
    found = scored_study(clocks, **given).gap(beat=[(str(b), b) for b in beat])
    assert found is not None
    return found


def only(table: GapTable) -> Target:
    (target,) = table.targets
    return target


@pytest.mark.parametrize("seed", range(5))
def test_rule_and_weights_are_fitted_from_the_runs(seed: int) -> None:
    """Eight runs give the harmonic mean and its weights back within 0.01."""
    composite = table_of(seed=seed).composite
    assert isinstance(composite, Composite)
    assert (composite.rule, composite.others, composite.told) == (Combining.HARMONIC, (), False)
    assert max(abs(composite.weights[n] - w) for n, w in WEIGHTS.items()) < 0.01
    assert composite.misfit < 1


def test_told_weights_are_taken_and_held_against_the_totals() -> None:
    """Rule and weights of study.toml; the misfit shows that they are right, within rounding."""
    composite = table_of(workload=TOLD).composite
    assert isinstance(composite, Composite)
    assert composite.told
    assert dict(composite.weights) == pytest.approx(WEIGHTS)
    assert composite.misfit < 0.6
    wrong = table_of(workload=TOLD | {"combine": "arithmetic"}).composite
    assert isinstance(wrong, Composite)
    assert wrong.misfit > 100


@pytest.mark.parametrize(
    ("workload", "clocks", "said"),
    [
        ({"combine": "harmonic", "subscores": {"shade": 0.9, "pack": 0.3}}, CLOCKS, "= 1.2"),
        ({}, [4200, 4300, 4400.0], "3 runs have a score and all of shade, pack, solve"),
        ({"subscores": ["shade", "stray"]}, CLOCKS, "0 runs have a score and all of shade, stray"),
        ({"subscores": []}, CLOCKS[:3], "a fit needs 4"),
    ],
)
def test_what_is_not_known_is_said_and_the_rest_works(
    workload: dict[str, object], clocks: list[float], said: str
) -> None:
    """Weights that do not add up, too few runs, missing parts: gap, noise and steps still stand."""
    table = table_of(clocks, 20_000.0, workload=workload)
    assert isinstance(table.composite, str)
    assert said in table.composite
    assert only(table).gap == 20_000 - (table.best.score or 0)
    assert isinstance(table.response, Response)


def test_the_needed_part_gives_the_target() -> None:
    """Put into the rule, each way makes the total that is to be beaten, scale included."""
    table = table_of(CLOCKS, 16_500.0, workload=TOLD)
    parts = {part.name: part for part in only(table).parts}
    now = {name: part.now for name, part in parts.items()}
    scale = table.here.mean / total(Combining.HARMONIC, WEIGHTS, now)
    for name, part in parts.items():
        assert part.needed is not None
        made = total(Combining.HARMONIC, WEIGHTS, {**now, name: part.needed})
        assert made * scale == pytest.approx(16_500, rel=1e-6)


def test_steps_of_the_clock_are_about_the_true_ones() -> None:
    """By its parts' rises and pulls the score gains 0.73 to 0.76 % a step: 3 % are 4 steps."""
    table = table_of([*CLOCKS, 4350, 4450, 4250.0], 1.0)
    score = table.here.mean * 1.03
    (gap,) = only(table_of([*CLOCKS, 4350, 4450, 4250.0], score)).knobs
    assert gap.knob == "clock"
    assert gap.interval[0] <= 4.0 <= gap.interval[1]
    assert gap.steps == pytest.approx(4.0, abs=0.4)
    assert gap.permitted
    assert gap.pass_probability is not None


def test_beyond_the_range_or_a_ceiling_is_no_way() -> None:
    """A fifth more lies beyond 5000 MHz: no value is named."""
    table = table_of()
    (gap,) = only(table_of(CLOCKS, table.here.mean * 1.25)).knobs
    assert (gap.value, gap.permitted, gap.pass_probability) == (None, False, None)


def test_luck_alone() -> None:
    """A score within a standard deviation of the mean is noise; one of ten deviations is not."""
    table = table_of([4400.0] * 8)
    assert table.noise is not None
    near, far = (table.here.mean + k * table.noise[0] for k in (1.0, 10.0))
    found = table_of([4400.0] * 8, near, far).targets
    assert found[0].luck == pytest.approx(0.18, abs=0.03)
    assert [t.within_noise for t in found] == [True, False]


def test_the_noise_of_one_run_is_not_known() -> None:
    """Then neither is whether a gap is more than noise; and no knob was varied."""
    table = table_of([4400.0], 20_000.0)
    assert (table.noise, only(table).luck, only(table).within_noise) == (None, None, False)
    assert table.response == "the scored runs vary no knob"


def test_knobs_that_moved_together_are_not_told_apart() -> None:
    """Clock and timing always changed as one."""
    study = scored_study([])
    for step in range(5):
        setting = {"clock": 4200.0 + 50 * step, "timing": 44.0 - step}
        study.record("pass", settings=setting, score=1000 + 10 * step)
    table = study.gap()
    assert table is not None
    assert isinstance(table.response, str)
    assert "clock, timing were moved together" in table.response


def test_boots_that_differ_are_noticed() -> None:
    """Each boot's three runs lie together, the boots far apart; one boot alone says nothing."""
    study = scored_study([])
    for boot, level in enumerate((1000.0, 1030.0, 990.0)):
        for turn in range(3):
            facts = {"boot": "cold"} if boot and not turn else {}
            study.record("pass", settings={"clock": 4400.0}, score=level + turn, **facts)
    table = study.gap()
    assert table is not None
    assert table.boots is not None
    assert table.boots < 1e-4
    assert table_of([4400.0] * 4).boots is None


def test_repeats_that_fall_off_are_noticed() -> None:
    """Two settings in turns; from run 11 on both score 1 % less, five times their noise."""
    study, rng = scored_study([]), np.random.default_rng(2)
    for turn in range(20):
        clock = 4300.0 + 100 * (turn % 2)
        level = clock * (0.99 if turn >= 10 else 1.0) * rng.normal(1, 0.002)
        study.record("pass", settings={"clock": clock}, score=level)
    table = study.gap()
    assert table is not None
    assert table.drift is not None
    assert abs(table.drift.since - 11) <= 1
    assert table.drift.share == pytest.approx(-0.01, abs=0.002)
    assert table_of([4400.0] * 12).drift is None


def test_nothing_scored_is_no_table() -> None:
    """Nor do capped runs, failures and runs of other workloads count."""
    study = scored_study([])
    study.record("pass", settings={"clock": 4300.0}, score=100, capped="power")
    study.record("crash", settings={"clock": 4400.0})
    assert study.gap() is None


def test_old_scores_give_way_to_those_since_a_change() -> None:
    """A new cooler makes new noise; the old best is not the place where one stands."""
    study = scored_study([4400.0, 4500.0])
    study.changed("new cooler")
    study.record("pass", settings={"clock": 4200.0}, score=15_000)
    table = study.gap()
    assert table is not None
    assert (table.best.score, table.here.count) == (15_000, 1)
