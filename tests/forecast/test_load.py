"""Load of a setting by P = C V^2 f, worked by hand."""

import pytest

from planner.forecast.load import load_of
from tests.domain.makers import clock, ratio, read, tables, volts


def test_a_clock_and_its_voltage() -> None:
    """1.1 times the clock and 1.2 to 1.3 V: 1.290972 times the power (Patterson and Hennessy's
    form; the figure worked outside the code)."""
    definition = read(
        tables(clock(group="core", low=4000, high=5060, step=20), volts(group="core"))
    )
    (load,) = load_of(definition).of({"clock": 4620.0, "volts": 1.3})
    assert load == pytest.approx(0.290972, abs=1e-6)
    assert load_of(definition).of(definition.stock) == (0.0,)


def test_an_offset_counts_by_the_sum_that_it_is_part_of() -> None:
    """1.2 V and -100 mV are 1.1 V: (1.1 / 1.2)^2."""
    offset = volts("offset", unit="mV", low=-200, high=100, step=10, stock=0, group="core")
    real = {"name": "real", "unit": "V", "sum": ["volts", "offset"]}
    definition = read(tables(clock(group="core"), volts(group="core"), offset, derived=[real]))
    found = load_of(definition).of({"clock": 4200.0, "volts": 1.2, "offset": -100.0})
    factors = [factor.name for factor in load_of(definition).factors]
    assert factors == ["clock", "volts", "real"]
    assert found[0] == pytest.approx((1.1 / 1.2) ** 2 - 1)


def test_a_lone_offset_counts_as_if_on_one_volt() -> None:
    """-100 mV: 0.9 squared."""
    offset = volts("offset", unit="mV", low=-200, high=100, step=10, stock=0, group="core")
    definition = read(tables(clock(group="core"), offset))
    assert load_of(definition).of({"clock": 4200.0, "offset": -100.0})[0] == pytest.approx(-0.19)


def test_timings_and_coolants_switch_nothing() -> None:
    """Only clocks, ratios and voltages do; groups stand apart."""
    timing = {"name": "timing", "low": 30, "high": 50, "step": 1, "stock": 44, "harder": "down"}
    coolant = {"name": "coolant", "unit": "C", "low": 0, "high": 30, "step": 5, "stock": 25}
    knobs = [clock(group="core"), ratio(group="memory"), timing, coolant | {"cools": True}]
    load = load_of(read(tables(*knobs)))
    assert load.groups == ("core", "memory")
    setting = {"clock": 4200.0, "ratio": 44.0, "timing": 30.0, "coolant": 0.0}
    assert load.of(setting) == pytest.approx((0.0, 0.1))
