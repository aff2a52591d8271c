"""What runs close: settings that failed to start, readings past their stops, and hard rules."""

from typing import Any

import pytest

from planner import Study
from planner.gate import gate_of
from tests.domain.makers import clock, mode, tables, volts

TIMING = clock(name="timing", unit="clocks", low=30, high=50, step=2, stock=40, harder="down")
HOT = {"name": "hot", "unit": "C", "stop": 95}


def study(**others: Any) -> Study:
    """A clock, a timing and a voltage that is free up to 1.4 V."""
    return Study.create(tables(clock(), TIMING, volts(everyday=1.4), reading=[HOT], **others))


def permits(asked: Study, **setting: Any) -> bool:
    """Whether the setting, else at stock, may be proposed."""
    return gate_of(asked.history).permits(asked.history.definition.stock | setting)


@pytest.fixture
def did_not_start() -> Study:
    """4800 MHz did not start in run 1, everything else at stock."""
    told = study()
    told.record("no-start", settings={"clock": 4800})
    return told


def test_a_setting_that_did_not_start_is_closed_and_nothing_else(did_not_start: Study) -> None:
    """Exactly that setting: more voltage or less clock may start."""
    assert not permits(did_not_start, clock=4800)
    assert permits(did_not_start, clock=4900)
    assert permits(did_not_start, clock=4800, volts=1.205)


@pytest.mark.parametrize("outcome", ["pass", "stopped"])
def test_a_later_pass_there_opens_it(did_not_start: Study, outcome: str) -> None:
    """It starts after all; until it fails to start again."""
    did_not_start.record(outcome, settings={"clock": 4800}, run_minutes=3)
    assert permits(did_not_start, clock=4800)
    did_not_start.record("no-start", settings={"clock": 4800})
    assert not permits(did_not_start, clock=4800)


@pytest.mark.parametrize("outcome", ["crash", "power-off", "void"])
def test_other_runs_there_do_not(did_not_start: Study, outcome: str) -> None:
    """A crash speaks of the workload; a void run of nothing."""
    did_not_start.record(outcome, settings={"clock": 4800})
    assert not permits(did_not_start, clock=4800)
    did_not_start.record("pass", settings={"clock": 4700})
    assert not permits(did_not_start, clock=4800)


def test_an_amendment_or_a_change_opens_it(did_not_start: Study) -> None:
    """It was a slip, or it was another machine."""
    did_not_start.changed("new firmware")
    assert permits(did_not_start, clock=4800)
    did_not_start.record("no-start", settings={"clock": 4800})
    assert not permits(did_not_start, clock=4800)
    did_not_start.amend(2, outcome="crash")
    assert permits(did_not_start, clock=4800)


def test_what_really_ran_is_what_did_not_start() -> None:
    """The firmware trained another timing than the one set."""
    told = study()
    told.record("no-start", settings={"clock": 4800}, actual={"timing": 36})
    assert permits(told, clock=4800)
    assert not permits(told, clock=4800, timing=36)


@pytest.mark.parametrize(
    ("setting", "closed"),
    [
        ({}, True),
        ({"clock": 4700}, True),
        ({"timing": 38}, True),
        ({"volts": 1.205}, True),
        ({"clock": 4700, "timing": 30, "volts": 1.4}, True),
        ({"clock": 4500}, False),
        ({"timing": 42}, False),
        ({"volts": 1.195}, False),
        ({"clock": 5000, "volts": 1.195}, False),
    ],
)
def test_a_reading_past_its_stop_closes_that_setting_and_hotter_ones(
    setting: dict[str, float], closed: bool
) -> None:
    """Hotter: clocks and voltages as high or higher, timings as low or lower."""
    told = study()
    told.record("pass", settings={"clock": 4600}, readings={"hot": "95.5C"})
    assert permits(told, **{"clock": 4600} | setting) is not closed


def test_a_reading_at_its_stop_closes_nothing() -> None:
    """Past it is past it; a void run is no evidence; without a stop nothing is closed."""
    told = study()
    told.record("pass", settings={"clock": 4600}, readings={"hot": 95, "room": 400})
    told.record("void", settings={"clock": 4600}, readings={"hot": 99})
    assert permits(told, clock=4600)


def test_amending_the_reading_opens_the_region() -> None:
    """It was misread; and what really ran bounds the region."""
    told = study()
    told.record("crash", settings={"clock": 4600}, actual={"clock": 4800}, readings={"hot": 99})
    assert permits(told, clock=4600)
    assert not permits(told, clock=4800)
    told.amend(1, readings={"hot": 89})
    assert permits(told, clock=4800)


def test_a_choice_is_as_hot_only_as_itself() -> None:
    """Another choice may cool better."""
    told = Study.create(tables(clock(), mode(), reading=[HOT]))
    told.record("pass", settings={"clock": 4600, "mode": "b"}, readings={"hot": 99})
    assert permits(told, clock=4600)
    assert not permits(told, clock=4600, mode="b")


def test_hard_rules_are_enforced_and_notes_are_not() -> None:
    """The same inequality either way; the rule is named with what it says."""
    rule = {"name": "gap", "holds": "clock <= 100 * timing + 500"}
    noted = study(rule=[rule])
    enforced = study(rule=[rule | {"kind": "hard"}])
    assert permits(noted, clock=4600)
    assert permits(enforced, clock=4500)
    gate = gate_of(enforced.history)
    broken = gate.objections({"clock": 4600.0, "timing": 40.0, "volts": 1.2})
    assert broken == ["rule gap is broken: clock <= 100 * timing + 500"]
    assert permits(enforced, clock=4600, timing=42)


def test_a_rule_may_speak_of_derived_values_and_skips_words() -> None:
    """The derived value in its own unit; a choice in words breaks no sum."""
    total = {"name": "real", "unit": "mV", "sum": ["volts"]}
    rules = [{"holds": "real <= 1250", "kind": "hard"}, {"holds": "mode <= 1", "kind": "hard"}]
    told = Study.create(tables(clock(), volts(everyday=1.4), mode(), derived=[total], rule=rules))
    assert permits(told, volts=1.25)
    assert not permits(told, volts=1.255)


@pytest.mark.parametrize(
    ("setting", "said"),
    [
        ({"clock": 4250.0}, "clock = 4250 MHz: expected 4000 MHz to 5000 MHz in steps of 100 MHz"),
        ({"clock": 3900.0}, "clock = 3900 MHz"),
        ({"clock": "fast"}, "clock = fast"),
        ({"clock": "4200"}, "clock = 4200"),
        ({"mode": "c"}, "mode = c: expected one of a, b"),
        ({"mode": 1.0}, "mode = 1"),
        ({"tempo": 1.0}, "tempo is no knob of this study"),
    ],
)
def test_what_is_not_on_the_grid_is_named(setting: dict[str, Any], said: str) -> None:
    """Knob, value and what can be set."""
    gate = gate_of(Study.create(tables(clock(), mode())).history)
    (reason,) = gate.objections({"clock": 4200.0, "mode": "a"} | setting)
    assert reason.startswith(said)
    assert gate.objections({"mode": "a"}) == ["clock has no value"]
