"""What a probe may print."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.domain.tables import Reading
from planner.drive.sensors import NoReadings, highest, past_stop, readings_in

KNOWN = {"hot": Reading("hot", "C", stop=95.0), "volts": Reading("volts", "V")}


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("hot = 71 C", {"hot": 71}),
        ("hot: 71", {"hot": 71}),
        ("  hot=71.5C  \nnoise\nvolts = 1250 mV\nfan = broken", {"hot": 71.5, "volts": 1.25}),
        ("hot=1\nhot=2", {"hot": 2}),
        ('{"hot": 71, "volts": "1.2 V", "other": []}', {"hot": 71, "volts": 1.2}),
        ('\n {"hot": "71 C"}', {"hot": 71}),
    ],
)
def test_readings_are_found(text: str, found: dict[str, float]) -> None:
    """As lines or JSON, in the study's units; what the study does not know is passed over."""
    assert readings_in(text, KNOWN) == found


@pytest.mark.parametrize(
    "text",
    [
        "",
        "nothing here",
        "volts = 1.2",
        "hot = NaN",
        "hot = 71 V",
        "hot = 7,1",
        "hot = error",
        "other = 5",
        "{",
        '{"hot": null}',
        '{"hot": NaN}',
        '{"hot": true}',
        '{"hot": 1e999}',
        "{" * 100_000,
        "[71]",
    ],
)
def test_what_cannot_be_trusted_is_no_reading(text: str) -> None:
    """One with a stop that is missing or no number: the machine cannot be watched."""
    with pytest.raises(NoReadings):
        readings_in(text, KNOWN)


@given(st.text(max_size=200))
def test_any_text_is_readings_or_none(text: str) -> None:
    """Never another error; what is found is finite."""
    try:
        found = readings_in(text, KNOWN)
    except NoReadings:
        return
    assert all(-1e308 < value < 1e308 for value in found.values())


def test_a_stop_is_passed_above_it() -> None:
    """At it is still under."""
    assert past_stop({"hot": 95.0}, KNOWN) is None
    assert past_stop({"hot": 95.1}, KNOWN) == "hot"
    assert past_stop({"volts": 99.0}, KNOWN) is None


def test_the_highest_is_kept() -> None:
    """Of each reading."""
    assert highest({"a": 1, "b": 5}, {"a": 2, "c": 0}) == {"a": 2, "b": 5, "c": 0}
