"""Hostile definitions: whatever they hold, a DefinitionError or a definition."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.domain.parse import MAX_TEXT, parse_text
from planner.errors import DefinitionError, PlannerError
from planner.store import definition_text
from tests.domain.makers import clock, mode, read, refusal, tables, volts

KEYS = [
    *("name", "unit", "low", "high", "step", "stock", "harder", "supports", "choices", "group"),
    *("everyday", "own_risk", "hard_stop", "expected", "each", "where", "change_minutes", "x"),
]
anything = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(2**70), 2**70)
    | st.floats()
    | st.text(max_size=8)
    | st.sampled_from(["up", "down", "choice", "clock", "V", "1.3V", "1e308", "nan", "live"]),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3)
    ),
    max_leaves=5,
)
TABLES = ["study", "rig", "group", "knob", "derived", "rule", "reading", "workload", "x"]


def refusal_of(given_as: dict[str, Any]) -> str | None:
    """What is said if it is refused."""
    try:
        read(given_as)
    except DefinitionError as error:
        return str(error)
    return None


@given(st.dictionaries(st.sampled_from(KEYS), anything))
def test_any_knob_is_taken_or_refused(changes: dict[str, Any]) -> None:
    """One table with any values under any keys."""
    if isinstance(changes.get("low"), float | int) and abs(changes["low"]) > 1e300:
        changes["low"] = 1.0  # a range wider than a double can tell has a test of its own
    said = refusal_of(tables(clock(**changes), clock(name="second")))
    assert said is None or said.startswith(("study.toml: ", "definition: "))


@given(st.dictionaries(st.sampled_from(TABLES), anything))
def test_any_tables_are_taken_or_refused(given_as: dict[str, Any]) -> None:
    """A whole definition of anything."""
    said = refusal_of(tables() | given_as)
    assert said is None or len(said) < 2000


@given(st.text(max_size=200) | st.text('[]{}=".,\n knobaestx0123-_#', max_size=80))
def test_any_text_is_taken_or_refused(text: str) -> None:
    """Any text in place of a definition."""
    with pytest.raises(DefinitionError, match=r"^study\.toml: "):
        parse_text(text)


@pytest.mark.parametrize("opening", ["[", '{"a"=', "[[", "a."])
def test_deep_nesting_is_refused(opening: str) -> None:
    """Nested 100,000 deep."""
    with pytest.raises(DefinitionError):
        parse_text("a = " + opening * 100_000)


def test_a_text_that_is_too_long_is_refused() -> None:
    """Before it is parsed."""
    assert f"expected at most {MAX_TEXT}" in refusal("#" * (MAX_TEXT + 1))


def test_a_long_value_is_cut_short_in_the_message() -> None:
    """A message is for people."""
    assert len(refusal(tables(clock(stock="9" * 50_000)))) < 400
    assert len(refusal(tables(clock(harder="u" * 50_000)))) < 400
    assert len(refusal(tables(clock(**{"k" * 50_000: 1})))) < 700


def test_a_whole_number_of_5000_digits_is_refused() -> None:
    """Python reads at most 4,300 digits."""
    refusal("[study]\nseed = " + "1" * 5000)


def test_a_range_wider_than_a_double_is_refused() -> None:
    """From one end of the doubles to the other."""
    refusal(tables(clock(low=-1.7e308, high=1.7e308, step=1.7e308, stock=0)))


def test_tables_that_hold_themselves_are_refused() -> None:
    """A definition given as tables that go round in a circle."""
    circle: dict[str, Any] = {}
    circle["study"] = circle
    with pytest.raises(PlannerError):
        definition_text(circle)


@pytest.mark.parametrize(
    "given_as",
    [
        tables(clock(), mode(choices=["a", "b\x1b[2J"])),
        tables(clock(), mode(choices=["a", "b" * 5000])),
        tables(rig={"slots": ["a\x1b[2J"]}),
        tables(workload=[{"name": "t", "subscores": ["a\x1b[2J"]}]),
        tables(workload=[{"name": "t", "subscores": {"a\x1b[2J": 1}}]),
        tables(rule=[{"holds": "clock <= 5000 #\x1b[2J"}]),
    ],
)
def test_no_text_can_steer_a_terminal(given_as: dict[str, Any]) -> None:
    """Texts that are shown to people are printable and short, wherever they stand."""
    refusal(given_as)


def test_a_long_chain_of_derived_values_is_read() -> None:
    """Each refers to the one written after it."""
    count = 500
    chain = [
        {"name": f"d{i}", "unit": "V", "sum": [f"d{i + 1}" if i < count - 1 else "volts"]}
        for i in range(count)
    ]
    assert read(tables(volts(), derived=chain)).numbers({"volts": 1.2})["d0"] == 1.2
