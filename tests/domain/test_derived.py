"""Derived values: products and sums of knobs in whatever units they come, exact to nine digits."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.domain.makers import clock, mode, ratio, read, refusal, tables, volts

BASE = volts("base", unit="V")
OFFSET = volts("offset", unit="mV", low=-200, high=200, step=5, stock=0)
BUS = clock(name="bus", low=90, high=110, step=0.1, stock=100)
SHARE = ratio("share", unit="%", low=50, high=150, step=1, stock=100)


def value_of(derived: dict, knobs: list[dict], **setting: float) -> float:
    """The derived value d at a setting."""
    return read(tables(*knobs, derived=[{"name": "d", **derived}])).numbers(setting)["d"]


@given(st.integers(200, 280), st.integers(-40, 40), st.sampled_from(["V", "mV", "uV"]))
def test_a_sum_converts_its_members(base: int, offset: int, unit: str) -> None:
    """Volts plus millivolts, in any unit of voltage, against decimals."""
    volt, milli = base * Decimal("0.005"), offset * Decimal(5)
    exact = (volt + milli / 1000) * {"V": 1, "mV": 1000, "uV": 10**6}[unit]
    derived = {"unit": unit, "sum": ["base", "offset"]}
    found = value_of(derived, [BASE, OFFSET], base=float(volt), offset=float(milli))
    assert found == pytest.approx(float(exact), rel=1e-12, abs=1e-9)


@given(st.integers(900, 1100), st.integers(30, 60), st.sampled_from(["MHz", "GHz", "kHz"]))
def test_a_product_scales_its_one_carrier(bus: int, factor: int, unit: str) -> None:
    """Base clock times ratio: 100.1 MHz x 51 = 5105.1 MHz = 5.1051 GHz."""
    exact = bus * Decimal("0.1") * factor * {"MHz": 1, "GHz": Decimal("0.001"), "kHz": 1000}[unit]
    derived = {"unit": unit, "product": ["ratio", "bus"]}
    found = value_of(derived, [BUS, ratio()], bus=bus / 10, ratio=float(factor))
    assert found == pytest.approx(float(exact), rel=1e-12, abs=1e-9)


def test_a_percentage_is_a_ratio() -> None:
    """105 % of 4000 MHz is 4.2 GHz; 40x and 105 % make 42x."""
    derived = {"unit": "GHz", "product": ["clock", "share"]}
    assert value_of(derived, [clock(), SHARE], clock=4000.0, share=105.0) == 4.2
    derived = {"unit": "x", "product": ["ratio", "share"]}
    assert value_of(derived, [ratio(), SHARE], ratio=40.0, share=105.0) == 42.0
    derived = {"unit": "%", "sum": ["ratio", "share"]}
    assert value_of(derived, [ratio(), SHARE], ratio=40.0, share=105.0) == 4105.0


def test_a_product_of_ratios_in_percent() -> None:
    """50 % of 50 % is 25 %; 2x times 3x is 600 %."""
    other = SHARE | {"name": "other"}
    derived = {"unit": "%", "product": ["share", "other"]}
    assert value_of(derived, [SHARE, other], share=50.0, other=50.0) == 25.0
    derived = {"unit": "%", "product": ["ratio", "second"]}
    assert value_of(derived, [ratio(), ratio("second")], ratio=2.0, second=3.0) == 600.0


def test_small_units_keep_their_digits() -> None:
    """12.4 ns is 1.24e-8 s."""
    timing = clock(name="timing", unit="ns", low=1, high=20, step=0.1, stock=12)
    assert value_of({"unit": "s", "sum": ["timing"]}, [timing], timing=12.4) == pytest.approx(
        1.24e-8, rel=1e-9
    )


def test_the_order_of_writing_does_not_matter() -> None:
    """A derived value may stand before those that it refers to."""
    chain = [
        {"name": "core", "unit": "MHz", "product": ["whole", "bus"]},
        {"name": "whole", "unit": "x", "sum": ["ratio", "extra"]},
    ]
    knobs = [BUS, ratio(), ratio("extra", low=0, high=1, step=0.25, stock=0)]
    for written in (chain, chain[::-1]):
        definition = read(tables(*knobs, derived=written))
        assert list(definition.derived) == ["whole", "core"]
        assert definition.numbers({"bus": 100.0, "ratio": 50.0, "extra": 0.5})["core"] == 5050.0


def test_what_lacks_a_member_is_left_out() -> None:
    """Numbers are given only where every member has one."""
    definition = read(
        tables(BASE, OFFSET, derived=[{"name": "d", "sum": ["base", "offset"], "unit": "V"}])
    )
    assert definition.numbers({"base": 1.2}) == {"base": 1.2}


@pytest.mark.parametrize(
    ("derived", "named"),
    [
        ([{"name": "d", "unit": "V"}], ["d", "either product or sum"]),
        ([{"name": "d", "sum": []}], ["d", "either product or sum"]),
        ([{"name": "d", "sum": ["base"], "product": ["base"]}], ["d", "either product or sum"]),
        ([{"name": "d", "sum": "base"}], ["d", "sum = 'base'", "a list of names"]),
        ([{"name": "d", "sum": ["base", "base"]}], ["d", "sum", "each name once"]),
        ([{"name": "d", "unit": "V", "sum": ["bass"]}], ["d", "sum = 'bass'", "base"]),
        ([{"name": "d", "unit": "V", "sum": ["mode"]}], ["d", "sum = 'mode'", "not a choice"]),
        (
            [{"name": "d", "unit": "V", "sum": ["base", "clock"]}],
            ["d", "sum = 'clock'", "matches V", "MHz"],
        ),
        (
            [{"name": "d", "unit": "V", "sum": ["base", "ratio"]}],
            ["d", "sum = 'ratio'", "matches V"],
        ),
        ([{"name": "d", "sum": ["base"]}], ["d", "sum = 'base'", "matches none"]),
        (
            [{"name": "d", "unit": "V", "product": ["base", "offset"]}],
            ["d", "product", "one member"],
        ),
        ([{"name": "d", "unit": "V", "product": ["ratio"]}], ["d", "product", "one member"]),
        (
            [{"name": "d", "unit": "x", "product": ["clock"]}],
            ["d", "product = 'clock'", "matches x"],
        ),
        ([{"name": "clock", "unit": "MHz", "sum": ["clock"]}], ["clock", "given twice"]),
        ([{"name": "d", "unit": "V", "sum": ["base"]}] * 2, ["d", "given twice"]),
        ([{"name": "d", "unit": "V", "sum": ["d"]}], ["d", "circle"]),
        (
            [
                {"name": "d", "unit": "V", "sum": ["e", "base"]},
                {"name": "e", "unit": "V", "sum": ["f"]},
                {"name": "f", "unit": "V", "sum": ["d"]},
            ],
            ["d, e, f", "circle"],
        ),
        (
            [{"name": "d", "unit": "V", "sum": ["base"], "everyday": "1.3A"}],
            ["everyday", "'1.3A'", "V"],
        ),
        ([{"name": "d", "unit": "V", "sum": ["base"], "ceiling": 1}], ["unknown key 'ceiling'"]),
    ],
)
def test_what_cannot_be_derived_is_refused(derived: list[dict], named: list[str]) -> None:
    """The message has the file, the table, key and value, and what was expected."""
    message = refusal(tables(BASE, OFFSET, clock(), ratio(), mode(), derived=derived))
    assert [part for part in ["study.toml: [[derived]]", *named] if part not in message] == []
