"""Times as they are typed: decimal exact, one reading each, none where there is doubt."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.cli.guided.durations import duration_in
from planner.domain.quantity import parse_number

TIMES = {  # words, seconds, words taken
    "85s": ("85", 1),
    "85 s": ("85", 2),
    "85 SEC": ("85", 2),
    "1.5min": ("90", 1),
    ".5m": ("30", 1),
    "1m25s": ("85", 1),
    "1 min 25 s": ("85", 4),
    "2h": ("7200", 1),
    "1 h 2 min 3 s left": ("3723", 6),
    "90s hang": ("90", 1),
    "85s 90s": ("85", 1),
    "25s 1m": ("25", 1),
    "3min 85s": ("180", 1),
    "120min 30s": ("7230", 2),
}
NO_TIMES = ["", "85", "s", "85x", "1:25", "1,5min", "-85s", "1e2s", "1m25", "s 85", "8" * 50 + "s"]


@pytest.mark.parametrize(("text", "time"), TIMES.items(), ids=TIMES)
def test_a_time_is_taken(text: str, time: tuple[str, int]) -> None:
    """The longest that the words begin with; larger units first, the smaller ones under 60."""
    assert duration_in(text.split()) == (Decimal(time[0]), time[1])


@pytest.mark.parametrize("text", NO_TIMES)
def test_what_is_no_time_is_none(text: str) -> None:
    """No unit is guessed."""
    assert duration_in(text.split()) is None


@given(
    st.decimals(0, 10_000, places=3), st.sampled_from(["s", "min", "h"]), st.sampled_from(["", " "])
)
def test_it_is_the_time_that_record_takes(number: Decimal, unit: str, gap: str) -> None:
    """`--failed-after` with the same text gives the same seconds."""
    found = duration_in(f"{number}{gap}{unit}".split())
    assert found is not None
    assert float(found[0]) == pytest.approx(parse_number(f"{number}{unit}", "s", "time"), rel=1e-15)
