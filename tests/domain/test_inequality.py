"""Rules are inequalities over names and can be nothing else."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.domain.expression import MAX_LENGTH, parse_inequality

VALUES = {"a": 3.0, "b": -7.0, "tRAS": 42.0, "zero": 0.0}
leaves = st.sampled_from(list(VALUES)) | st.integers(0, 99).map(str)
sums = st.recursive(
    leaves,
    lambda inner: (
        st.tuples(inner, st.sampled_from("+-*/"), inner).map(lambda t: f"({t[0]} {t[1]} {t[2]})")
        | inner.map(lambda text: f"-{text}")
    ),
    max_leaves=6,
)
inequalities = st.tuples(sums, st.sampled_from(["<=", "<", ">=", ">"]), sums).map(" ".join)


@given(inequalities.filter(lambda text: len(text) <= MAX_LENGTH))
def test_it_means_what_arithmetic_says(text: str) -> None:
    """Python's own evaluation is the reference; a division by zero counts as broken."""
    try:
        expected = eval(text, {"__builtins__": {}}, dict(VALUES))
    except ZeroDivisionError:
        expected = False
    inequality = parse_inequality(text)
    assert inequality(VALUES) is expected
    assert inequality.names == {name for name in VALUES if name in text}


def test_its_sides_are_exact() -> None:
    """As people write them: 1.35 - 1.25 is 0.1, and 90 clocks at 5600 MT/s are 32 1/7 ns."""
    left, right = parse_inequality("a - b >= 2000 * c / d").sides(
        {"a": 1.35, "b": 1.25, "c": 90.0, "d": 5600.0}
    )
    assert (left, right) == (Fraction(1, 10), Fraction(225, 7))
    with pytest.raises(ZeroDivisionError):
        parse_inequality("a / zero > 1").sides(VALUES)


@pytest.mark.parametrize(
    "text",
    [
        "",
        " ",
        "a",
        "a + b",
        "a == b",
        "a != b",
        "a in b",
        "a is b",
        "0 <= a <= 9",
        "a <= b and b <= a",
        "not a <= b",
        "a <= b; b <= a",
        "a <= b\nb <= a",
        "x = a <= b",
        "(x := a) <= b",
        "a <= b if a else b",
        "a ** b <= 9",
        "a // b <= 9",
        "a % b <= 9",
        "a @ b <= 9",
        "a << 99 <= 9",
        "~a <= b",
        "a | b <= 9",
        "a.real <= b",
        "a.__class__ <= b",
        "a[0] <= b",
        "a() <= b",
        "abs(a) <= b",
        "__import__('os').system('true') <= 1",
        "open('x') <= 1",
        "(lambda: a)() <= b",
        "[a][0] <= b",
        "{a} <= {b}",
        "[x for x in a] <= b",
        "(yield) <= a",
        "(await a) <= b",
        "'a' <= 'b'",
        "f'{a}' <= b",
        "b'a' <= b",
        "True <= a",
        "None <= a",
        "... <= a",
        "1j <= a",
        "a <= *b",
        "a <=",
        "<= b",
        "a =< b",
        "a ≤ b",
        "((((a <= b",
        "a <= b\x00",
        "a <= " + "9" * MAX_LENGTH,
        "-" * (MAX_LENGTH - 6) + "a <= b" + " ",
        "(" * 97 + "a" + ")" * 97 + "<=bb " + " ",
    ],
)
def test_nothing_else_can_be_written(text: str) -> None:
    """No calls, no attributes, no chains, no words, no powers: the text is named, not run."""
    with pytest.raises(ValueError, match="expected"):
        parse_inequality(text)


@given(
    st.text(st.characters(codec="utf-8"), max_size=60) | st.text("ab<>=()+-*/.1 \n#'", max_size=60)
)
def test_any_text_is_taken_or_refused(text: str) -> None:
    """No text does anything but give an inequality or a ValueError."""
    try:
        inequality = parse_inequality(text)
    except ValueError:
        return
    assert inequality.text == text


@pytest.mark.parametrize(
    ("text", "a", "b", "holds"),
    [
        ("a >= b + 0.1", 0.3, 0.2, True),
        ("a - b <= 0.1", 1.35, 1.25, True),
        ("a - b < 0.1", 1.15, 1.05, False),
        ("a * 3 <= b", 0.1, 0.3, True),
    ],
)
def test_decimal_steps_are_compared_as_decimals(text: str, a: float, b: float, holds: bool) -> None:
    """Grids are exact in decimals, so a rule that holds with equality there must hold here."""
    assert parse_inequality(text)({"a": a, "b": b}) is holds


@pytest.mark.parametrize(
    ("text", "holds"),
    [("a - b * 51 <= 0", True), ("b * 51 - a < 0", False)],
)
def test_terms_that_cancel_are_compared_as_decimals(text: str, holds: bool) -> None:
    """5105.1 MHz is 51 times 100.1 MHz, on whichever side it is written."""
    assert parse_inequality(text)({"a": 5105.1, "b": 100.1}) is holds
