"""How heat and voltage hasten wear."""

from math import exp, log

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trade.failure_free import least_mean_time
from planner.trade.heat.wear import (
    BOLTZMANN,
    exponential_factor,
    heat_factor,
    power_factor,
)


@pytest.mark.parametrize(
    ("energy", "cool", "hot", "factor"),
    [
        (0.7, 55, 125, 77.7),
        (0.5, 25, 125, 133),
        (1.0, 25, 125, 17_597),
        (0.7, 80, 90, 1.884),
        (0.7, 40, 85, 26.03),
    ],
)
def test_arrhenius(energy: float, cool: float, hot: float, factor: float) -> None:
    """77.7 as reliability reports print it; NIST e-Handbook 8.1.5.1: 133 and 17,597 (from memory);
    the others worked outside the code. Constants move the fourth digit."""
    assert heat_factor(cool, hot, energy) == pytest.approx(factor, rel=5e-3)


def test_failures_in_time_of_a_hot_test() -> None:
    """77 parts, 1000 h at 125 C, none failed, 60 %: 152.8 per 1e9 h at 55 C (JESD85 form, worked
    outside the code with 77.9)."""
    hours = 77 * 1000 * heat_factor(55, 125)
    assert 1e9 / least_mean_time(hours, 0, 0.6) == pytest.approx(152.758, rel=5e-3)


def test_voltage() -> None:
    """exp(0.3), and 1.08 to the 40th; worked outside the code."""
    assert exponential_factor(0.1, 3.0) == pytest.approx(1.349859, abs=1e-6)
    assert power_factor(1.25, 1.35, 40) == pytest.approx(21.7245, abs=1e-4)


@pytest.mark.parametrize(("kelvin", "millivolts"), [(300, 59.5264), (358.15, 71.0646)])
def test_the_constant_gives_the_ideal_subthreshold_slope(kelvin: float, millivolts: float) -> None:
    """kT/q ln 10 per decade of current: 59.5 mV at 300 K, textbook."""
    assert BOLTZMANN * kelvin * log(10) * 1000 == pytest.approx(millivolts, abs=1e-4)


@given(st.floats(-50, 100), st.floats(0.1, 50), st.floats(0.1, 50))
def test_factors_multiply_along_the_way(cool: float, one: float, other: float) -> None:
    """From cool to warm to hot is from cool to hot; more heat wears faster."""
    warm, hot = cool + one, cool + one + other
    whole = heat_factor(cool, warm) * heat_factor(warm, hot)
    assert whole == pytest.approx(heat_factor(cool, hot))
    assert heat_factor(cool, hot) > heat_factor(cool, warm) > 1
    assert exponential_factor(one) == pytest.approx(exp(3 * one))


def test_nonsense_is_refused() -> None:
    """Colder than cold can be; no volts."""
    with pytest.raises(ValueError, match="-300 C: expected more than"):
        heat_factor(-300, 20)
    with pytest.raises(ValueError, match="0 V: expected more than 0"):
        power_factor(0, 1.2)
