"""What [rig], [mains], [claim_rules], scores and roles cannot be; the message names it all."""

from typing import Any

import pytest

from tests.domain.makers import clock, read, refusal, tables

BRACKETS = {"cost_brackets": {"small": 500}}


def said(*knobs: dict[str, Any], **others: Any) -> str:
    return refusal(tables(*knobs, **others))


@pytest.mark.parametrize(
    ("mains", "named"),
    [
        ({"amps": 16}, "[mains]: volts is missing"),
        ({"volts": 230}, "[mains]: amps is missing"),
        ({"volts": 12, "amps": 16}, "[mains]: volts = 12: expected 50 to 500"),
        ({"volts": 230, "amps": 0}, "[mains]: amps = 0: expected 0.1 to 200"),
        ({"volts": 230, "amps": 16, "efficiency": 90}, "efficiency = 90: expected 0.3 to 1"),
        ({"volts": 230, "amps": 16, "code": "mine"}, "code = 'mine': expected one of nec, other"),
        ({"volts": 230, "amps": 16, "other_wats": 5}, "unknown key 'other_wats'"),
    ],
)
def test_mains(mains: dict[str, Any], named: str) -> None:
    """Volts and amperes are needed; an efficiency is a share."""
    assert named in said(mains=mains)


@pytest.mark.parametrize(
    ("rules", "named"),
    [
        ({"readings": ["rom"]}, "readings = 'rom': expected names of readings: room"),
        ({"settings": ["clock"]}, "[claim_rules]"),
        ({"settings": ["clok <= 5"]}, "settings = 'clok': expected names of knobs"),
        ({"trusted_clock": ["base"]}, "trusted_clock = 'base': expected names of knobs: clock"),
        ({"bracket": "big"}, "bracket = 'big': expected one of the cost_brackets in [rig]: small"),
        ({"workload": "lode"}, "workload = 'lode': expected one of the workloads: run"),
        ({"subscores": "yes"}, "subscores = 'yes': expected true or false"),
        ({"witness": True}, "unknown key 'witness'"),
    ],
)
def test_claim_rules(rules: dict[str, Any], named: str) -> None:
    """They speak of readings, knobs and brackets that there are."""
    assert named in said(claim_rules=rules, rig=BRACKETS, reading=[{"name": "room", "unit": "C"}])


@pytest.mark.parametrize(
    ("workload", "named"),
    [
        ({"combine": "harmonic"}, "combine = 'harmonic': expected subscores"),
        ({"combine": "mean", "subscores": ["a", "b"]}, "one of arithmetic, geometric, harmonic"),
        ({"beat": {"mine": "fast"}}, "beat: mine = 'fast': expected a number"),
        ({"beat": {"mine": 0}}, "beat: mine = 0: expected a number above 0"),
        ({"beat": 2400}, "beat = 2400: expected names with numbers"),
    ],
)
def test_scores(workload: dict[str, Any], named: str) -> None:
    """A rule needs sub-scores, a score to beat is a number above nought."""
    assert named in said(workload=[{"name": "w", **workload}])


def test_brackets_and_cooling() -> None:
    """A bracket's ceiling is a number; what cools is a temperature with a range."""
    assert "small = -1: expected a number above 0" in said(rig={"cost_brackets": {"small": -1}})
    assert "expected a knob with a range and unit = 'C'" in said(clock(cools=True))


def test_roles() -> None:
    """A role comes with its unit; a name alone gives one only where the unit fits."""
    damp = {"name": "damp", "role": "humidity"}
    assert "unit = '': expected %, as role = 'humidity' needs" in said(reading=[damp])
    wet = said(reading=[damp | {"role": "wet"}])
    assert "role = 'wet': expected one of room, humidity, wall" in wet
    room = read(tables(reading=[{"name": "room", "unit": "F"}])).readings["room"]
    assert room.role.value == ""


def test_weights_that_do_not_add_up_are_taken() -> None:
    """Only what needs them says so, and the rest of the study works."""
    given = {"name": "w", "combine": "harmonic", "subscores": {"a": 0.9, "b": 0.3}}
    assert read(tables(workload=[given])).workloads["w"].subscores == (("a", 0.9), ("b", 0.3))


COMMANDS = {"apply": ["a"], "workload": ["w"], "restore": ["r"]}


@pytest.mark.parametrize(
    ("drive", "named"),
    [
        ({"apply": "set all"}, "apply = 'set all': expected a list of arguments"),
        ({"apply": []}, "apply = []: expected a list of 1 to 100 texts"),
        ({"restore": [""]}, "restore = ['']: expected a program's name first"),
        ({"workload": ["x", 3]}, "workload = 3: expected texts"),
        ({"probe": ["a\0b"]}, "no NUL"),
        ({"score": "("}, "score = '(': expected a regular expression ("),
        ({"score": "a(b)(c)"}, "exactly one group"),
        ({"score_file": "../else.json"}, "a path inside the study's folder"),
        ({"score_file": "/else.json"}, "a path inside the study's folder"),
        ({"score_file": "C:\\else.json"}, "a path inside the study's folder"),
        ({"grace_minutes": 0}, "grace_minutes = 0.0: expected more than 0"),
        ({"aply": ["a"]}, "unknown key 'aply'"),
    ],
)
def test_drive(drive: dict[str, Any], named: str) -> None:
    """Argument lists, one group, and no file outside the study."""
    assert named in said(drive=COMMANDS | drive)


@pytest.mark.parametrize("missing", COMMANDS)
def test_a_drive_needs_three_commands(missing: str) -> None:
    """Without a way back nothing is driven."""
    rest = {name: command for name, command in COMMANDS.items() if name != missing}
    assert f"[drive]: {missing} is missing" in said(drive=rest)
