"""The two-knob rig: its frontier rises, saturates, and bends back with heat."""

import numpy as np
import pytest

from planner.errors import InputError
from planner.rigs.frontier import frontier_rig

pytestmark = pytest.mark.slow


def test_more_voltage_first_helps_and_then_ever_less():
    """The frontier rises from its low end, and each further voltage brings less than the one
    before, until some rigs fall."""
    falls = 0
    for seed in (0, 5, 8, 10):
        rig = frontier_rig(seed)
        edges = [rig.at(v).edge() for v in rig.volts.grid.values()[::2]]
        rises = np.diff(edges)
        assert rises[0] > 0
        assert (np.diff(rises) < 1e-6).all()
        falls += rises[-1] < 0
    assert 0 < falls < 4


def test_the_same_seed_gives_the_same_evening():
    one, other = frontier_rig(3), frontier_rig(3)
    asked = one.stock | {"clock": one.clock.grid.values()[12]}
    assert [one.run(asked) for _ in range(6)] == [other.run(asked) for _ in range(6)]


def test_outcomes_come_as_often_as_the_truth_says():
    rig = frontier_rig(5)
    volts = rig.volts.stock
    clock = min(rig.clock.grid.values(), key=lambda c: abs(rig.at(volts).pass_probability(c) - 0.6))
    asked = {"clock": clock, "volts": volts}
    truth = rig.pass_probability(asked)
    share = np.mean([rig.run(asked).outcome == "pass" for _ in range(400)])
    assert share == pytest.approx(truth, abs=4 * np.sqrt(truth * (1 - truth) / 400) + 0.01)


def test_dialling_is_charged_for_each_changed_knob_and_lost_in_a_crash():
    rig = frontier_rig(5)
    easy = {"clock": rig.clock.grid.low, "volts": rig.volts.stock}
    first, again = rig.run(easy), rig.run(easy)
    assert first.outcome == again.outcome == "pass"
    changed = sum(easy[name] != rig.stock[name] for name in easy)
    assert first.minutes - again.minutes == pytest.approx(changed * rig.clock.change_minutes)


def test_values_off_the_grid_are_refused():
    rig = frontier_rig(0)
    with pytest.raises(InputError, match="volts"):
        rig.run(rig.stock | {"volts": 9.0})
