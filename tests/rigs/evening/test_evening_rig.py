"""The bench with many knobs: its truths hang together, and its books balance."""

import statistics
from dataclasses import replace

import numpy as np
import pytest

from planner.errors import InputError
from planner.rigs.evening.draw import Kind, evening_rig
from planner.rigs.evening.possible import best_setting
from planner.rigs.evening.rig import EveningRig

pytestmark = pytest.mark.slow

KINDS = [Kind(), Kind(wider=2.5), Kind(finer=3), Kind(even=True)]


@pytest.fixture(params=range(len(KINDS)), ids=["usual", "wide", "fine", "even"])
def rig(request: pytest.FixtureRequest) -> EveningRig:
    """One of each kind."""
    return evening_rig(31, KINDS[request.param])


def test_the_same_seed_is_the_same_evening(rig: EveningRig) -> None:
    """Outcome for outcome."""
    one, other = (replace(rig, draws=np.random.default_rng(5)) for _ in range(2))
    assert [one.run(one.stock) for _ in range(5)] == [other.run(other.stock) for _ in range(5)]


def test_harder_holds_less(rig: EveningRig) -> None:
    """Along every knob that can fail, the others at stock."""
    for name, knob in rig.knobs.items():
        if knob.supports:
            continue
        chances = [rig.pass_probability({**rig.stock, name: v}, 21.0) for v in knob.values]
        assert np.all(np.diff(chances) <= 1e-9)


def test_the_best_setting_is_allowed_and_beats_its_neighbours(rig: EveningRig) -> None:
    """It passes at least half the time, under the ceilings; no single step gains beside it."""
    best = best_setting(rig)
    assert rig.pass_probability(best, rig.bench.room) >= 0.5
    for name, knob in rig.knobs.items():
        place, top = knob.values.index(best[name]), knob.ceilings.everyday
        assert top is None or float(best[name]) <= top
        for near in knob.values[max(place - 1, 0) : place + 2]:
            other = {**best, name: near}
            if (top is None or float(near) <= top) and rig.pass_probability(
                other, rig.bench.room
            ) >= 0.5:
                assert rig.log_gain(other) <= rig.log_gain(best) + 1e-9


def test_the_composite_is_the_weighted_harmonic_mean(rig: EveningRig) -> None:
    """Against the standard library's."""
    subscores = rig.scoring.subscores(rig.stock, 22.0)
    weights = [rig.scoring.weights[name] for name in subscores]
    expected = statistics.harmonic_mean(list(subscores.values()), weights)
    assert rig.scoring.composite(subscores) == pytest.approx(expected)


def test_outcomes_come_as_often_as_stated() -> None:
    """Within three standard errors, at a setting that is neither safe nor hopeless."""
    rig = evening_rig(3)
    best = best_setting(rig)
    passed, chances = [], []
    for _ in range(300):
        chances.append(rig.pass_probability(best))
        passed.append(rig.run(best).outcome == "pass")
    error = float(np.std(passed)) / np.sqrt(len(passed))
    assert np.mean(passed) == pytest.approx(np.mean(chances), abs=3 * error)


def test_a_value_off_the_grid_is_refused() -> None:
    """It names the knob."""
    rig = evening_rig(0)
    with pytest.raises(InputError, match="core_clock = 4811"):
        rig.run({**rig.stock, "core_clock": 4811.0})
