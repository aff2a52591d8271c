"""Timings as typed, and as a study sets them."""

import pytest

from planner.domain.memory import Standard
from planner.domain.parse import parse_text
from planner.errors import InputError
from planner.trade.timing.names import TIMINGS
from planner.trade.timing.of_setting import clocks_of, rate_of
from planner.trade.timing.typed import parse_rate, parse_words, to_clocks

STUDY = """
[rig]
memory = "DDR5"
[[knob]]
name = "base"
unit = "MHz"
low = 100
high = 100
step = 1
stock = 100
[[knob]]
name = "ratio"
low = 48
high = 64
step = 1
stock = 60
unit = "x"
[[knob]]
name = "{name}"
low = {low}
high = 40
step = 0.5
stock = {stock}
harder = "down"
unit = "{unit}"
[[knob]]
name = "gear"
harder = "choice"
choices = ["auto", "1"]
stock = "auto"
[[workload]]
name = "w"
"""


def clocks(name: str, value: str) -> int:
    """One timing at DDR5-6000."""
    return to_clocks(TIMINGS[name], value, Standard.DDR5, 6000)


def test_words() -> None:
    """Standard, rate, clocks and times, in any order and spelling."""
    typed = parse_words(["cl=30", "ddr5-6000", "tRFC = 295ns", "tREFI=7.8us", "CR=2"])
    assert (typed.standard, typed.rate) == (Standard.DDR5, 6000)
    assert typed.values == {"tCL": "30", "tRFC": "295ns", "tREFI": "7.8us", "tCR": "2"}
    found = typed.timings(Standard.DDR5, 6000, {"tCL": 36, "tRP": 38})
    # 295000 x 997 // 333 = 883228, + 1000 gives 884; 7800000 // 333 = 23423: the rule by hand
    assert found.clocks == {"tCL": 30, "tRP": 38, "tRFC": 884, "tREFI": 23423, "tCR": 2}
    assert parse_words(["DDR4"]).rate is None
    assert parse_words([]).standard is None
    assert [parse_rate(text, "--at") for text in ("6400", "6.4GT/s", "ddr5-6400")] == [6400] * 3


@pytest.mark.parametrize(
    ("words", "named"),
    [
        (["DDR3-1600"], "'DDR3-1600': expected DDR4 or DDR5"),
        (["DDR5-6000", "DDR5-6400"], "given already"),
        (["DDR5-20"], "data rate = 20 MT/s"),
        (["tCL=30", "CL=32"], "given twice"),
        (["tKL=30"], "no timing 'tKL' known"),
        (["30-38-38"], "expected DDR4 or DDR5"),
        (["=30"], "no timing ''"),
    ],
)
def test_words_that_say_nothing(words: list[str], named: str) -> None:
    """The word is named."""
    with pytest.raises(InputError, match=named):
        parse_words(words)


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("tCL", "30.5"),
        ("tCL", "30.0"),
        ("tCL", "-3"),
        ("tCL", ""),
        ("tCL", "thirty"),
        ("tCL", "nan"),
        ("tCL", "0ns"),
        ("tCL", "-1ns"),
        ("tCL", "1V"),
        ("tCL", "9" * 13),
        ("tCR", "2ns"),
        ("tCR", "1.5"),
    ],
)
def test_values_that_are_no_clocks(name: str, value: str) -> None:
    """The timing and the value are named."""
    with pytest.raises(InputError, match=name):
        clocks(name, value)


def test_a_word_is_told_what_it_could_have_been() -> None:
    """Clocks or a time, not picoseconds alone."""
    with pytest.raises(InputError, match="tCL = 'abc': expected whole clocks, or a time as 295ns"):
        clocks("tCL", "abc")


def test_the_bounds_of_clocks() -> None:
    """0 clocks pass as digits and are refused as timings."""
    with pytest.raises(InputError, match="tCL = 0: expected 1 to"):
        parse_words(["tCL=0"]).timings(Standard.DDR5, 6000, {})


def filled(name: str = "tCL", low: float = 20, stock: float = 30, unit: str = "clocks") -> str:
    """A study with one timing, its data rate in a knob or derived from two."""
    return STUDY.format(name=name, low=low, stock=stock, unit=unit)


def test_a_study_in_nanoseconds_with_a_derived_rate() -> None:
    """15 ns of tCL at 100 MHz x 60: 45 clocks; the rate in MHz is no data rate."""
    text = filled(low=10, stock=15, unit="ns")
    definition = parse_text(text)
    with pytest.raises(InputError, match="nothing is in MT/s"):
        rate_of(definition, definition.stock)
    assert clocks_of(definition, definition.stock, Standard.DDR5, 6000) == {"tCL": 45}
    assert definition.rig.memory is Standard.DDR5


def test_a_rate_among_several() -> None:
    """`data_rate` is meant where there are more."""
    more = '[[knob]]\nname = "{}"\nunit = "GT/s"\nlow = 4\nhigh = 8\nstep = 1\nstock = 6\n'
    two = parse_text(filled() + more.format("one") + more.format("data_rate"))
    assert rate_of(two, two.stock) == 6000
    unclear = parse_text(filled() + more.format("one") + more.format("two"))
    with pytest.raises(InputError, match="one and two are both in MT/s"):
        rate_of(unclear, unclear.stock)


def test_a_study_that_counts_halves() -> None:
    """Clocks are whole; two names of one timing are one too many."""
    half = parse_text(filled(stock=30.5))
    with pytest.raises(InputError, match=r"tCL = 30.5: expected whole clocks"):
        clocks_of(half, half.stock, Standard.DDR5, 6000)
    again = '[[knob]]\nname = "CL"\nlow = 1\nhigh = 9\nstep = 1\nstock = 3\n'
    twice = parse_text(filled() + again)
    with pytest.raises(InputError, match="CL: a second name of tCL"):
        clocks_of(twice, twice.stock, Standard.DDR5, 6000)


def test_an_unknown_standard_of_a_rig() -> None:
    """Named with key, value and what was expected."""
    with pytest.raises(InputError, match="memory = 'DDR3': expected one of DDR4, DDR5"):
        parse_text(filled().replace("DDR5", "DDR3"))
