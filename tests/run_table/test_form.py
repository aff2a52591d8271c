"""Cells and headings come back as they were, and no text can be taken for a formula."""

import re
from math import isfinite

from hypothesis import example, given
from hypothesis import strategies as st

from planner.run_table import Part, guarded, heading, number_text, split_heading, unguarded

FORMULA = re.compile(r"[=+\-@\t\r\n\uff1d\uff0b\uff0d\uff20]")
"""Signs that begin a formula: OWASP, "CSV Injection", with their full-width forms."""
texts = st.text(max_size=20)
beginnings = st.sampled_from(["", "=", "+", "-", "@", "\t", "\r", "\n", "'", "''", "\uff1d"])


@given(beginnings, texts)
@example("'", "")
@example("", "'=")
@example("", "''")
def test_a_guarded_text_comes_back(beginning: str, rest: str) -> None:
    """Whatever it is, guards of its own included."""
    assert unguarded(guarded(beginning + rest)) == beginning + rest


@given(beginnings, texts)
def test_no_guarded_text_begins_like_a_formula(beginning: str, rest: str) -> None:
    """Nor is a harmless text changed."""
    cell = guarded(beginning + rest)
    assert not FORMULA.match(cell)
    if not FORMULA.match(beginning + rest) and not (beginning + rest).startswith("'"):
        assert cell == beginning + rest


def test_a_persons_apostrophe_stays() -> None:
    """Only before what needs a guard is it one."""
    assert [unguarded(cell) for cell in ("'tis odd", "'", "'=1", "''=1", "")] == [
        "'tis odd",
        "'",
        "=1",
        "'=1",
        "",
    ]


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_numbers_come_back_exactly(value: float) -> None:
    """The last bit and the sign of zero included, as Python's float reads them."""
    text = number_text(value)
    assert isfinite(float(text))
    assert float(text).hex() == value.hex()


names = st.from_regex(r"[^\W\d]\w{0,39}", fullmatch=True)
units = st.text(st.characters(exclude_categories=["C", "Z"]), max_size=20)
labels = st.text(st.characters(exclude_categories=["C"]), min_size=1, max_size=60)


@given(st.sampled_from([part for part in Part if part is not Part.SUB]), names, units)
def test_a_heading_comes_apart_as_it_was_put_together(part: Part, name: str, unit: str) -> None:
    """Knobs, derived values and readings with any unit."""
    assert split_heading(heading(part, name, unit)) == (part, name, unit)


@given(labels)
def test_a_part_of_the_score_may_have_any_name(name: str) -> None:
    """Brackets and blanks in it are its own."""
    assert split_heading(heading(Part.SUB, name)) == (Part.SUB, name, "")


def test_a_name_alone_is_taken_as_it_stands() -> None:
    """With its unit if there is one."""
    assert split_heading("core_clock") == (None, "core_clock", "")
    assert split_heading(" core_clock [GHz] ") == (None, "core_clock", "GHz")
    assert split_heading("settle") == (None, "settle", "")
