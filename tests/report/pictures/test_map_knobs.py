"""Which two knobs the map is drawn over."""

from dataclasses import replace

import pytest

from planner.errors import InputError
from planner.history import History
from planner.report.pictures.map.knobs import knobs_of
from planner.report.pictures.picture import Wanted
from tests.report.pictures.studies import CLOCK, DELAY, history, new


def _named(known: History, **wanted: str) -> tuple[str, str] | None:
    knobs = knobs_of(known, Wanted(**wanted))
    return None if knobs is None else (knobs[0].name, knobs[1].name)


def test_knobs_are_the_searched_one_and_the_second_or_most_varied() -> None:
    """`along` of the study before the one that was run at most values; options before both."""
    known = history("an evening")
    assert _named(known) == ("core_clock", "core_voltage")
    goal = replace(known.definition.goal, along="read_delay")
    along = replace(known, definitions=(replace(known.definition, goal=goal),))
    assert _named(along) == ("core_clock", "read_delay")
    assert _named(known, y="read_delay") == ("core_clock", "read_delay")
    assert _named(known, x="core_voltage") == ("core_voltage", "core_clock")
    assert _named(known, y="core_clock") == ("core_voltage", "core_clock")


def test_one_varied_knob_makes_no_map() -> None:
    """Unless the second one is named."""
    made = new(CLOCK, DELAY)
    for value in (5000, 5050):
        made.record("pass", settings={"core_clock": value})
    assert _named(made.history) is None
    assert _named(made.history, y="read_delay") == ("core_clock", "read_delay")


@pytest.mark.parametrize(
    ("wanted", "said"),
    [
        ({"x": "klock"}, "--x klock: expected a knob of the study: core_clock, core_voltage"),
        ({"y": "cake"}, "--y cake: expected a knob of the study"),
        ({"x": "read_delay", "y": "read_delay"}, "expected two different knobs"),
    ],
)
def test_knobs_that_cannot_be_are_refused(wanted: dict[str, str], said: str) -> None:
    """The message names option and value."""
    with pytest.raises(InputError, match=said):
        knobs_of(history("an evening"), Wanted(**wanted))
