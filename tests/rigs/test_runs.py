"""What a run on a simulated rig costs and reports."""

import math
from dataclasses import replace

import numpy as np
import pytest

from planner.errors import InputError
from planner.rigs.families import FAMILIES, alpha_power_rig, slack_rig
from planner.rigs.one_knob import RESTART_MINUTES, RUN_MINUTES, OneKnobRig
from planner.rigs.physics import first_failure
from planner.rigs.result import RigRun
from planner.rigs.slack import Slack

every_family = pytest.mark.parametrize("family", FAMILIES)


def many_runs(rig: OneKnobRig, value: float, count: int) -> list[RigRun]:
    """The same value again and again."""
    return [rig.run({"knob": value}) for _ in range(count)]


def hardest(rig: OneKnobRig) -> float:
    """A value far past the edge, if the range has one."""
    return float(rig.knob.values[-1])


@every_family
def test_same_seed_same_evening(family: str) -> None:
    """Rig and draws repeat; another seed gives another rig."""
    evenings = [FAMILIES[family](seed) for seed in (5, 5, 6)]
    told = [
        [rig.run({"knob": value}) for value in rig.knob.values for _ in range(3)]
        for rig in evenings
    ]
    assert evenings[0].definition == evenings[1].definition != evenings[2].definition
    assert told[0] == told[1] != told[2]


@every_family
def test_crashes_come_within_the_run(family: str) -> None:
    """A crash has a time from 1 s to the run's length, a pass has none."""
    rig = FAMILIES[family](2)
    runs = [run for value in rig.knob.values[:100] for run in many_runs(rig, float(value), 5)]
    for run in runs:
        if run.outcome == "pass":
            assert run.failed_after_s is None
        else:
            assert 1 <= run.failed_after_s <= RUN_MINUTES * 60


def test_given_the_shift_time_to_failure_is_geometric() -> None:
    """With next to no shift each second fails alike: mean and deviation of a geometric law."""
    rig = slack_rig(0)
    rig.physics, rig.stray = Slack(0.0, noise=1.0, spread=1e-9), 0.0
    # A slack of two standard deviations: a second fails with Phi(-2) = 0.02275.
    rig.physics = Slack(rig.knob.hardness(rig.knob.stock) + 2, noise=1.0, spread=1e-9)
    runs = many_runs(rig, float(rig.knob.stock), 4000)
    times = np.array([run.failed_after_s for run in runs if run.failed_after_s])
    chance = 0.5 * math.erfc(2 / math.sqrt(2))
    assert abs(times.mean() - 1 / chance) <= 4 * math.sqrt(1 - chance) / chance / math.sqrt(4000)
    assert times.std() == pytest.approx(math.sqrt(1 - chance) / chance, rel=0.1)


def test_a_part_that_warms_up_crashes_late() -> None:
    """At an even chance to pass, its crashes come later than those of a steady part."""
    warming = alpha_power_rig(4)
    steady = replace(warming, physics=replace(warming.physics, rise=0.0))
    means = []
    for rig in (warming, steady):
        hardness, draws = rig.knob.hardness(rig.edge(0.5)), np.random.default_rng(1)
        times = [first_failure(rig.physics, hardness, 300, draws) for _ in range(1000)]
        means.append(np.mean([time for time in times if time is not None]))
    assert means[0] > 1.3 * means[1]


def test_stray_crashes_are_spread_over_the_run() -> None:
    """At a setting without fault the stray share crashes, its times uniform: mean in the middle."""
    rig = slack_rig(0)
    rig.physics, rig.stray = Slack(1e6, 0.1, 0.1), 0.2
    runs = many_runs(rig, float(rig.knob.stock), 4000)
    times = np.array([run.failed_after_s for run in runs if run.failed_after_s])
    assert abs(len(times) / 4000 - 0.2) <= 4 * math.sqrt(0.2 * 0.8 / 4000)
    assert abs(times.mean() - 150.5) <= 4 * 300 / math.sqrt(12 * len(times))


def test_minutes_of_a_pass() -> None:
    """The run, and dialling only where the value changed."""
    rig = slack_rig(0)
    rig.physics, rig.stray = Slack(1e6, 0.1, 0.1), 0.0
    stock, other = (float(rig.knob.stock), hardest(rig))
    minutes = [rig.run({"knob": value}).minutes for value in (stock, other, other, stock)]
    assert minutes == pytest.approx([5.0, 5.3, 5.0, 5.3])


def test_minutes_of_a_crash() -> None:
    """Dialling, the time it held, and a restart of 4 minutes in the mean, never twice alike."""
    rig = slack_rig(0)
    rig.physics = Slack(-1e6, 0.1, 0.1)
    runs = many_runs(rig, hardest(rig), 2000)
    restarts = [run.minutes - 0.3 - run.failed_after_s / 60 for run in runs]
    assert np.mean(restarts) == pytest.approx(RESTART_MINUTES, abs=4 * np.std(restarts) / 2000**0.5)
    assert len(set(restarts)) == 2000
    assert min(restarts) > 0


@pytest.mark.parametrize("settings", [{}, {"knob": 1e9}, {"knob": "fast"}, {"other": 1.0}])
def test_only_values_of_the_knob_are_run(settings: dict[str, float | str]) -> None:
    """Anything else is refused with what was expected."""
    with pytest.raises(InputError, match="expected"):
        slack_rig(0).run(settings)
