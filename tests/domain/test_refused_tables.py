"""What the tables beside the knobs cannot be: file, table, key, value and expectation are named."""

from typing import Any

import pytest

from tests.domain.makers import clock, mode, read, refusal, tables, volts

KNOBS = (clock(group="core"), volts(), mode())


def missing(message: str, named: list[str]) -> list[str]:
    """What the message does not say of what it should."""
    return [part for part in named if part not in message]


@pytest.mark.parametrize(
    ("study", "named"),
    [
        ({"aim": "win"}, ["aim = 'win'", "edge, frontier, peak, everyday, trim"]),
        ({"knob": "clok"}, ["knob = 'clok'", "one of clock, volts, mode"]),
        ({"knob": "mode"}, ["knob = 'mode'", "not a choice"]),
        ({"along": "clok"}, ["along = 'clok'", "one of clock, volts, mode"]),
        ({"along": "mode"}, ["along = 'mode'", "not a choice"]),
        ({"knob": "clock", "along": "clock"}, ["along = 'clock'", "another knob"]),
        ({"target": 0.4}, ["target = 0.4", "from 0.5"]),
        ({"target": 0.985}, ["target = 0.985", "under 0.985"]),
        ({"target": 1}, ["target = 1", "under 0.985"]),
        ({"target": "90"}, ["target = 90", "0 to 1"]),
        ({"target": True}, ["target = True", "a number"]),
        ({"minutes": -5}, ["minutes = -5", "at least 0"]),
        ({"minutes": "2V"}, ["minutes = '2V'", "expected min"]),
        ({"seed": -1}, ["seed = -1", "a whole number from 0"]),
        ({"seed": 1.5}, ["seed = 1.5", "a whole number"]),
        ({"seed": 2**60}, ["seed = 1152921504606846976", "a whole number from 0"]),
        ({"boldness": 1.1}, ["boldness = 1.1", "0 to 1"]),
        ({"boldness": -0.1}, ["boldness = -0.1", "at least 0"]),
        ({"trust_suspicion": 2}, ["trust_suspicion = 2", "0 to 1"]),
        ({"tolerance": 0}, ["tolerance = 0", "a positive number"]),
        ({"tolerance": "5mV"}, ["tolerance = '5mV'", "expected MHz"]),
        ({"confidence": 1}, ["confidence = 1", "under 1"]),
        ({"confidence": 0.3}, ["confidence = 0.3", "from 0.5"]),
        ({"cold_boots": -1}, ["cold_boots = -1", "from 0"]),
        ({"workload": "tide"}, ["workload = 'tide'", "one of run"]),
        ({"name": 5}, ["name = 5", "a text"]),
        ({"name": "a\nb"}, ["name = 'a\\nb'", "printable"]),
        ({"name": "a" * 61}, ["name", "at most 60"]),
        ({"minuts": 60}, ["unknown key 'minuts'", "did you mean 'minutes'?"]),
        ({"trust": 1}, ["unknown key 'trust'", "known: knob"]),
    ],
)
def test_a_study_that_cannot_be(study: dict[str, Any], named: list[str]) -> None:
    """The `[study]` table."""
    assert missing(refusal(tables(*KNOBS, study=study)), ["study.toml: [study]", *named]) == []


def test_the_tolerance_is_in_the_searched_knobs_unit() -> None:
    """Whichever knob stands first."""
    study = {"knob": "volts", "tolerance": "5mV"}
    assert read(tables(*KNOBS, study=study)).goal.tolerance == 0.005
    assert "expected V" in refusal(tables(*KNOBS, study=study | {"tolerance": "5MHz"}))


@pytest.mark.parametrize(
    ("kind", "table", "named"),
    [
        ("rig", {"parts": "board"}, ["[rig]", "parts = 'board'", "a list"]),
        ("rig", {"parts": ["board"]}, ["[rig]", "parts = 'board'", "a table"]),
        ("rig", {"parts": [{"price": 5}]}, ["[rig]", "name is missing"]),
        ("rig", {"parts": [{"name": "a", "price": -5}]}, ["parts a", "price = -5", "at least 0"]),
        ("rig", {"parts": [{"name": "a", "prize": 5}]}, ["unknown key 'prize'", "'price'?"]),
        ("rig", {"reboot_minutes": -1}, ["[rig]", "reboot_minutes = -1", "at least 0"]),
        ("rig", {"slots": "A"}, ["[rig]", "slots = 'A'", "a list of names"]),
        ("rig", {"slots": ["A", "A"]}, ["[rig]", "slots", "each name once"]),
        ("rig", [], ["[rig]", "a table"]),
        ("study", "edge", ["[study]", "a table"]),
        ("group", {"name": "core"}, ["group", "expected [[group]] tables"]),
        ("group", [{}], ["[[group]]", "name is missing"]),
        ("group", [{"name": "core"}, {"name": "core"}], ["[[group]]", "'core'", "given twice"]),
        ("group", [{"name": "memory"}], ["[[knob]] clock", "group = 'core'", "memory"]),
        ("group", [{"name": "core", "restart_minutes": "2V"}], ["core", "'2V'", "expected min"]),
        ("group", [{"name": "core", "crash_price": -1}], ["crash_price = -1", "at least 0"]),
        ("reading", [{"name": "hot spot"}], ["[[reading]]", "name = 'hot spot'", "letters"]),
        ("reading", [{"name": "hot", "stop": True}], ["[[reading]] hot", "stop = True", "number"]),
        ("reading", [{"name": "hot", "stop": float("nan")}], ["stop = nan", "finite"]),
        ("reading", [{"name": "hot", "unit": "V", "stop": "95W"}], ["'95W'", "expected V"]),
        ("reading", [{"name": "hot"}, {"name": "hot"}], ["[[reading]]", "'hot'", "given twice"]),
        ("workload", [{"name": "t", "minutes": 0}], ["[[workload]] t", "minutes = 0", "more than"]),
        ("workload", [{"name": "t", "minutes": 10_081}], ["minutes = 10081", "10080 (a week)"]),
        (
            "workload",
            [{"name": "t", "minutes": 5, "settle_minutes": 6}],
            ["= 6", "at most minutes"],
        ),
        ("workload", [{"name": "t", "screens": ["gpu"]}], ["screens = 'gpu'", "groups: core"]),
        ("workload", [{"name": "t", "scored": 1}], ["scored = 1", "true or false"]),
        ("workload", [{"name": "t", "subscores": {"a": -1}}], ["subscores: a = -1", "at least 0"]),
        ("workload", [{"name": "t", "subscores": ["a", "a"]}], ["subscores", "each name once"]),
        ("workload", [{"name": "t", "subscores": 5}], ["subscores = 5", "a list of names"]),
        ("workload", [{"name": "t"}, {"name": "t"}], ["[[workload]]", "'t'", "given twice"]),
        ("workload", [{"name": "t\x1b"}], ["[[workload]]", "name = 't\\x1b'", "letters"]),
        ("rule", [{"name": "r"}], ["[[rule]] r", "holds is missing"]),
        ("rule", [{"name": "r", "holds": 5}], ["[[rule]] r", "holds = 5", "inequality"]),
        ("rule", [{"holds": "clock == 5"}], ["[[rule]] rule 1", "'clock == 5'", "inequality"]),
        ("rule", [{"holds": "clock.real <= 5"}], ["rule 1", "'clock.real <= 5'", "only names"]),
        ("rule", [{"holds": "abs(clock) <= 5"}], ["rule 1", "'abs(clock) <= 5'", "only names"]),
        ("rule", [{"holds": "clok <= 5"}], ["rule 1", "holds = 'clok'", "knobs or derived"]),
        ("rule", [{"holds": "clock <= 5", "kind": "soft"}], ["kind = 'soft'", "note, hard"]),
        ("rule", [{"holds": "clock <= 5", "hard": True}], ["unknown key 'hard'"]),
        ("readings", [], ["unknown key 'readings'", "did you mean 'reading'?"]),
        ("version", 1, ["unknown key 'version'"]),
    ],
)
def test_a_table_that_cannot_be(kind: str, table: Any, named: list[str]) -> None:
    """Every other table, one slip of the pen each."""
    message = refusal(tables(*KNOBS, **{kind: table}))
    assert missing(message, ["study.toml", *named]) == []
    assert "\x1b" not in message


@pytest.mark.parametrize(
    ("text", "named"),
    [
        ("[study", "not readable as TOML"),
        ("a = 1\na = 2", "not readable as TOML"),
        ("[study]\nname = 'x'\n[study]\nname = 'y'", "not readable as TOML"),
        ("[[knob]]\nname = clock", "not readable as TOML"),
        ("\x00", "not readable as TOML"),
        ("[study]\nminutes = 2026-01-02", "minutes = datetime.date(2026, 1, 2)"),
        ("", "no [[knob]] table"),
    ],
)
def test_what_is_no_definition_at_all(text: str, named: str) -> None:
    """The file is named, and what is wrong with it."""
    knob = '\n[[knob]]\nname = "clock"\nlow = 1\nhigh = 2\nstep = 1\nstock = 1\n'
    message = refusal(text + (knob if text.startswith("[study]\nminutes") else ""))
    assert message.startswith("study.toml")
    assert named in message
