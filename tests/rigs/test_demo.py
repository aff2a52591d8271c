"""The made-up rig that the demo plays on."""

import math

import pytest

from planner.domain.parse import parse_text
from planner.errors import InputError
from planner.rigs.demo import DemoRig
from planner.rigs.demo_definition import DEFINITION


def test_its_definition_is_a_study_of_the_clock() -> None:
    """The text reads as a study.toml: the edge of core_clock, 4600 to 5600 MHz by 25."""
    definition = parse_text(DEFINITION)
    assert definition.searched is definition.knobs["core_clock"]
    assert definition.knobs["core_clock"].values[:2] == (4600.0, 4625.0)
    assert definition.guarded["core_voltage"].last == 110


def test_same_seed_same_evening() -> None:
    """The same settings in the same order give the same runs."""
    clocks = [4800, 5100, 5250, 5500, 5175]
    first, second, other = (
        [rig.run({"core_clock": clock}) for clock in clocks]
        for rig in (DemoRig(1), DemoRig(1), DemoRig(2))
    )
    assert first == second != other


@pytest.mark.parametrize("clock", [5175, 5200, 5225])
def test_as_many_runs_pass_as_the_truth_says(clock: int) -> None:
    """Held at one room temperature, within 4 standard errors."""
    rig, passed = DemoRig(8), 0
    truth = rig.pass_probability({"core_clock": clock}, room=rig.room)
    for _ in range(1000):
        rig.spent = 0.0
        passed += rig.run({"core_clock": clock}).outcome == "pass"
    assert abs(passed / 1000 - truth) <= 4 * math.sqrt(truth * (1 - truth) / 1000) + 1e-9


def test_the_edge_lies_inside_the_range() -> None:
    """At stock otherwise, the easiest clock holds and the hardest does not."""
    rig = DemoRig()
    assert rig.pass_probability({"core_clock": 4600}) > 0.9
    assert rig.pass_probability({"core_clock": 5600}) < 0.01


def test_more_voltage_holds_more_clock() -> None:
    """Voltage supports the clock."""
    rig, clock = DemoRig(), 5275
    chances = [
        rig.pass_probability({"core_clock": clock, "core_voltage": volts})
        for volts in (100, 104, 108)
    ]
    assert chances == sorted(chances)
    assert chances[0] < 0.1 < 0.9 < chances[-1]


def test_a_warmer_room_holds_less() -> None:
    """The room warms with the minutes spent, and costs clock."""
    rig = DemoRig()
    before = rig.room
    for _ in range(20):
        rig.run({"core_clock": 4800})
    assert before + 1 < rig.room < 25
    chances = [rig.pass_probability({"core_clock": 5200}, room) for room in (18, 22, 26, 30)]
    assert chances == sorted(chances, reverse=True)


def test_memory_far_past_its_edge_does_not_start() -> None:
    """No start: no time, no score, no hotspot, a long recovery, and firmware back at stock."""
    rig = DemoRig()
    run = rig.run({"read_delay": 26})
    assert run.outcome == "no-start"
    assert (run.failed_after_s, run.score) == (None, None)
    assert "hotspot" not in run.readings
    assert run.minutes > 6
    assert rig.run({}).outcome == "pass"


def test_only_a_pass_scores() -> None:
    """A pass has a score, the weighted sum of its sub-scores; a crash has none."""
    rig = DemoRig()
    passed, crashed = rig.run({"core_clock": 4800}), rig.run({"core_clock": 5600})
    weights = dict(rig.definition.workload.subscores)
    total = sum((weights[name] or 1) * value for name, value in passed.subscores.items())
    assert passed.score == pytest.approx(total, abs=0.06)
    assert (crashed.outcome, crashed.score, crashed.subscores) == ("crash", None, {})
    assert 1 <= crashed.failed_after_s <= 300


@pytest.mark.parametrize("settings", [{"core_clock": 4601}, {"fan": 3}, {"core_voltage": 113}])
def test_only_values_of_its_knobs_are_run(settings: dict[str, float]) -> None:
    """Anything else is refused with what was expected."""
    with pytest.raises(InputError, match="expected"):
        DemoRig().run(settings)
