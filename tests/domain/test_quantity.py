"""Numbers with units: SI prefixes exactly as the SI brochure has them, everything else refused."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.domain.quantity import canonical_unit, format_number, parse_number, with_unit
from planner.errors import InputError

# SI brochure, 9th edition (2019), table 7.
PREFIX = {"p": -12, "n": -9, "u": -6, "m": -3, "": 0, "k": 3, "M": 6, "G": 9}
UNITS = {
    "V": ["uV", "mV", "V"],
    "A": ["mA", "A"],
    "W": ["mW", "W", "kW"],
    "Hz": ["Hz", "kHz", "MHz", "GHz"],
    "T/s": ["MT/s", "GT/s"],
    "s": ["ps", "ns", "us", "ms", "s"],
}
pairs = st.sampled_from(
    [(base, source, target) for base, u in UNITS.items() for source in u for target in u]
)


def power(unit: str, base: str) -> int:
    """The power of ten that the unit's prefix stands for."""
    return PREFIX[unit.removesuffix(base)]


@given(pairs, st.decimals(-99_999, 99_999, places=4), st.sampled_from(["", " ", "  "]))
def test_prefixes_are_exact_powers_of_ten(
    units: tuple[str, str, str], number: Decimal, space: str
) -> None:
    """The result is the double nearest to the exact decimal one."""
    base, source, target = units
    exact = number * Decimal(10) ** (power(source, base) - power(target, base))
    assert parse_number(f"{number}{space}{source}", target, "x") == float(exact)


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("1.35V", "V", 1.35),
        ("1350mV", "V", 1.35),
        ("1.35", "mV", 1.35),
        ("-50 mV", "V", -0.05),
        ("5.1GHz", "MHz", 5100.0),
        ("5100mhz", "MHz", 5100.0),
        ("5100 MHZ", "GHz", 5.1),
        (" 6.4 GT/s ", "MT/s", 6400.0),
        ("350\N{MICRO SIGN}s", "ms", 0.35),
        ("350\N{GREEK SMALL LETTER MU}s", "us", 350.0),
        ("51x", "x", 51.0),
        ("51x", "", 51.0),
        ("104%", "x", 1.04),
        ("1.04", "%", 1.04),
        ("+.5", "V", 0.5),
        ("5.", "V", 5.0),
        ("4.2e3 MHz", "MHz", 4200.0),
        ("24 clocks", "clocks", 24.0),
        ("20 min", "min", 20.0),
        ("90 s", "min", 1.5),
        ("5 min", "s", 300.0),
        ("2h", "min", 120.0),
        ("1500 ms", "min", 0.025),
    ],
)
def test_numbers_as_people_type_them(text: str, unit: str, value: float) -> None:
    """Units in any case and spacing; a bare number is in the unit asked for."""
    assert parse_number(text, unit, "x") == value


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("1.35A", "V"),
        ("5.1GHz", "V"),
        ("51x", "V"),
        ("1.35V", "x"),
        ("1.35V", ""),
        ("24 clocks", "ns"),
        ("6400 MT/s", "MHz"),
        ("5 min", "V"),
        ("100%", "W"),
    ],
)
def test_units_that_do_not_match_are_refused(text: str, unit: str) -> None:
    """The message has the fact, what was typed and the unit expected."""
    with pytest.raises(InputError) as caught:
        parse_number(text, unit, "core")
    assert "core" in str(caught.value)
    assert text in str(caught.value)
    assert f"expected {unit or 'no unit'}" in str(caught.value)


@pytest.mark.parametrize(
    "given_as",
    [
        "",
        " ",
        "fast",
        "V",
        "1.3.5",
        "--5",
        "0x10",
        "1e9999",
        "nan",
        "inf",
        "-inf",
        "1_000",
        "½",
        "5²",
    ],
)
def test_texts_that_are_no_number_are_refused(given_as: str) -> None:
    """Nothing is guessed, and nothing infinite gets in."""
    with pytest.raises(InputError, match="core = "):
        parse_number(given_as, "V", "core")


@pytest.mark.parametrize(
    "given_as",
    [True, False, None, [1], {}, b"5", float("nan"), float("inf"), -float("inf"), 10**400],
)
def test_values_that_are_no_finite_number_are_refused(given_as: object) -> None:
    """A yes is not a 1, and a huge whole number is not a double."""
    with pytest.raises(InputError, match=r"core = .*expected a (finite )?number in V"):
        parse_number(given_as, "V", "core")


@pytest.mark.parametrize("text", ["12,5", "5,100", "1,35 V"])
def test_a_decimal_comma_is_refused_with_a_hint(text: str) -> None:
    """The message says to write a decimal point."""
    with pytest.raises(InputError, match="decimal point"):
        parse_number(text, "V", "core")


@pytest.mark.parametrize("text", ["5" + " " * 90 + "kHz", "1" * 100 + ".5 V", "5" + " " * 90 + "x"])
def test_no_part_of_a_text_is_ignored(text: str) -> None:
    """A text too long to be a number is refused, never read in part."""
    with pytest.raises(InputError):
        parse_number(text, "V", "core")


@pytest.mark.parametrize(("text", "unit"), [("2 MW", "W"), ("5 MV", "V"), ("1 Ps", "s")])
def test_mega_is_never_read_as_milli(text: str, unit: str) -> None:
    """The SI brochure tells M (10^6) from m (10^-3), and P (10^15) from p (10^-12)."""
    try:
        value = parse_number(text, unit, "core")
    except InputError:
        return
    assert value >= 1e6


@given(st.floats(-1e12, 1e12).map(lambda v: float(f"{v:.9g}")).filter(lambda v: abs(v) > 1e-12))
def test_shown_numbers_read_back_the_same(value: float) -> None:
    """What is printed, with or without its unit, gives the same number again."""
    assert "e" not in format_number(value)
    assert parse_number(format_number(value), "MHz", "x") == value
    assert parse_number(with_unit(value, "MHz"), "MHz", "x") == value


@given(st.integers(1, 10_080))
def test_whole_minutes_stay_whole(minutes: int) -> None:
    """A minute has 60 s, an hour 60 of them (SI brochure, table 8): given in seconds or hours."""
    assert parse_number(f"{minutes * 60} s", "min", "x") == minutes
    assert parse_number(f"{minutes} min", "s", "x") == minutes * 60
    assert parse_number(f"{minutes} h", "min", "x") == minutes * 60


@pytest.mark.parametrize(
    ("written", "printed"), [("mhz", "MHz"), ("mv", "mV"), ("US", "us"), ("Clocks", "Clocks")]
)
def test_known_units_are_printed_in_their_proper_case(written: str, printed: str) -> None:
    """Units that we don't know stay as the person wrote them."""
    assert canonical_unit(f" {written} ") == printed
