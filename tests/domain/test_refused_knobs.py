"""What a `[[knob]]` table cannot be: every refusal names file, table, key, value, expectation."""

from typing import Any

import pytest

from tests.domain.makers import clock, mode, refusal, tables, volts

HUGE = 10**400


def said(knob: dict[str, Any], *others: dict[str, Any]) -> str:
    """The refusal; it opens with the file and the table."""
    message = refusal(tables(knob, *others))
    assert message.startswith("study.toml: [[knob]]")
    return message


@pytest.mark.parametrize(
    ("changes", "named"),
    [
        ({"lowest": 1}, ["unknown key 'lowest'", "did you mean 'low'?"]),
        ({"every_day": 4500}, ["unknown key 'every_day'", "did you mean 'everyday'?"]),
        ({"hardstop": 4500}, ["unknown key 'hardstop'", "did you mean 'hard_stop'?"]),
        ({"zzz": 1}, ["unknown key 'zzz'", "known: name"]),
        ({"step": 30}, ["step = 30", "does not divide", "4000 to 5000"]),
        ({"step": 0}, ["step = 0", "expected a positive number"]),
        ({"step": -100}, ["step = -100", "expected a positive number"]),
        ({"step": 0.001}, ["step = 0.001", "at most 20000 values"]),
        ({"low": 5100}, ["high = 5000", "at least low = 5100"]),
        ({"stock": 4250}, ["stock = 4250 MHz", "4000 MHz to 5000 MHz in steps of 100 MHz"]),
        ({"stock": 5100}, ["stock = 5100 MHz", "4000 MHz to 5000 MHz in steps of 100 MHz"]),
        ({"stock": "fast"}, ["stock = 'fast'", "a number in MHz"]),
        ({"stock": "4.2 V"}, ["stock = '4.2 V'", "unit 'V' does not match, expected MHz"]),
        ({"low": True}, ["low = True", "a number in MHz"]),
        ({"step": [100]}, ["step = [100]", "a number in MHz"]),
        ({"high": float("nan")}, ["high = nan", "a finite number"]),
        ({"high": float("inf")}, ["high = inf", "a finite number"]),
        ({"high": HUGE}, ["high = 1000", "a finite number"]),
        ({"everyday": float("nan")}, ["everyday = nan", "a finite number"]),
        ({"everyday": 3900}, ["everyday = 3900", "leaves no value", "4000 MHz"]),
        ({"everyday": 4600, "own_risk": 4500}, ["everyday = 4600", "at most own_risk = 4500"]),
        ({"own_risk": 4600, "hard_stop": 4500}, ["own_risk = 4600", "at most hard_stop = 4500"]),
        ({"everyday": 4600, "hard_stop": 4500}, ["everyday = 4600", "at most hard_stop = 4500"]),
        ({"everyday": "1.3V"}, ["everyday = '1.3V'", "expected MHz"]),
        ({"expected": [4500]}, ["expected = [4500]", "two numbers, [lower, upper]"]),
        ({"expected": [4600, 4500]}, ["expected = [4600.0, 4500.0]", "[lower, upper]"]),
        ({"expected": 4500}, ["expected = 4500", "two numbers"]),
        ({"expected": [4500, True]}, ["expected = True", "a number in MHz"]),
        ({"harder": "sideways"}, ["harder = 'sideways'", "one of up, down, choice"]),
        ({"harder": True}, ["harder = True", "one of up, down, choice"]),
        ({"where": "bios"}, ["where = 'bios'", "one of firmware, live"]),
        ({"supports": "clock"}, ["supports = 'clock'", "a list of names"]),
        ({"supports": ["clock"]}, ["supports", "itself", "other knobs"]),
        ({"supports": ["clok"]}, ["supports = 'clok'", "one of the knobs: clock"]),
        ({"supports": [1]}, ["supports = [1]", "a list of names"]),
        ({"each": 0}, ["each = 0", "a whole number from 1"]),
        ({"each": 2.0}, ["each = 2.0", "a whole number"]),
        ({"each": True}, ["each = True", "a whole number"]),
        ({"change_minutes": -1}, ["change_minutes = -1", "at least 0"]),
        ({"change_minutes": "soon"}, ["change_minutes = 'soon'", "a number"]),
        ({"unit": 5}, ["unit = 5", "a text"]),
        ({"unit": "x" * 21}, ["unit", "at most 20"]),
        ({"group": ["core"]}, ["group = ['core']", "a text"]),
        ({"choices": [4000]}, ["choices = [4000]", 'harder = "choice"']),
        ({"name": "core clock"}, ["name = 'core clock'", "letters, digits and _"]),
        ({"name": "1st"}, ["name = '1st'", "not starting with a digit"]),
        ({"name": "x" * 41}, ["name", "letters, digits and _"]),
        ({"name": 5}, ["name = 5", "letters, digits and _"]),
        ({"name": "a\x1b[31m"}, ["name", "letters, digits and _"]),
    ],
)
def test_a_knob_that_cannot_be(changes: dict[str, Any], named: list[str]) -> None:
    """Each slip of the pen in a `[[knob]]` table."""
    message = said(clock(**changes))
    assert [part for part in named if part not in message] == []
    assert "\x1b" not in message


@pytest.mark.parametrize("key", ["name", "low", "high", "step", "stock"])
def test_what_a_range_needs(key: str) -> None:
    """A missing key is named."""
    knob = clock()
    del knob[key]
    assert f"{key} is missing" in said(knob)


@pytest.mark.parametrize(
    ("changes", "named"),
    [
        ({"choices": []}, ["choices = []", "a list of the values"]),
        ({"choices": "ab"}, ["choices = 'ab'", "a list of the values"]),
        ({"choices": ["a", "a"]}, ["choices", "each value once"]),
        ({"choices": ["a", 1, 1.0]}, ["choices", "each value once"]),
        ({"choices": ["a", True]}, ["choices = True", "a number"]),
        ({"choices": ["a", float("nan")]}, ["choices = nan", "a finite number"]),
        ({"choices": ["a", ["b"]]}, ["choices = ['b']", "a number"]),
        ({"stock": "c"}, ["stock = c", "one of a, b"]),
        ({"stock": 1}, ["stock = 1", "one of a, b"]),
        ({"everyday": 3}, ["everyday = 3", "leaves no value"]),
        ({"choices": [3, 4], "stock": 3, "everyday": 2}, ["everyday = 2", "leaves no value"]),
    ],
)
def test_a_choice_that_cannot_be(changes: dict[str, Any], named: list[str]) -> None:
    """Each slip of the pen in the table of a choice."""
    message = said(mode(**changes), clock())
    assert [part for part in named if part not in message] == []


def test_a_choice_has_no_range() -> None:
    """What would not be heeded is refused."""
    assert "low" in said(mode(low=1, high=2, step=1), clock())


def test_names_are_given_once() -> None:
    """Two knobs of one name are refused."""
    assert "name = 'clock' is given twice" in said(clock(), clock())


def test_a_support_names_its_own_kind() -> None:
    """A voltage may support the clock, never a workload or group."""
    knobs = (clock(group="core"), volts(supports=["core"]))
    assert "supports = 'core'" in refusal(tables(*knobs))


@pytest.mark.parametrize(
    ("knobs", "said_so"),
    [
        ({}, "no [[knob]] table"),
        ({"knob": []}, "no [[knob]] table"),
        ({"knob": {"name": "clock"}}, "expected [[knob]] tables"),
        ({"knob": "clock"}, "expected [[knob]] tables"),
        ({"knob": [5]}, "expected a table"),
        ({"knobs": [clock()]}, "did you mean 'knob'?"),
    ],
)
def test_knobs_come_in_tables_of_their_own(knobs: dict[str, Any], said_so: str) -> None:
    """One `[[knob]]` table each, one at least."""
    assert said_so in refusal(knobs)


def test_a_refusal_cannot_steer_a_terminal() -> None:
    """What is refused is shown, but not obeyed."""
    assert "\x1b" not in said(mode(stock="\x1b[2J"), clock())
