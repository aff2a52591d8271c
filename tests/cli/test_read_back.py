"""Voltages that a run raises late in the evening, as the machine reads them."""

from pathlib import Path

import pytest

from planner import Study
from tests.cli.typed import ledger, made, planner

_TABLES = """\
[study]
aim = "peak"
minutes = 100

[[group]]
name = "core"

[[knob]]
name = "clock"
group = "core"
unit = "MHz"
low = 4000
high = 5000
step = 50
stock = 4200

[[knob]]
name = "volts"
group = "core"
unit = "V"
low = 1.0
high = 1.4
step = 0.01
stock = 1.2
harder = "down"
supports = ["clock"]
everyday = 1.3

[[workload]]
name = "load"
minutes = 5
scored = true
"""


RAISED = 1.3


@pytest.fixture
def late(monkeypatch: pytest.MonkeyPatch) -> int:
    """On a terminal, in the last quarter: a run is pending that raises the voltage to 1.3 V."""
    made(text=_TABLES)
    study = Study.open(Path("studies/box"))
    study.record("pass", settings={}, minutes=76, score=100)
    proposal = study.next()
    assert proposal is not None
    assert proposal.settings["volts"] == RAISED
    monkeypatch.setattr("planner.cli.record.interactive", lambda: True)
    return proposal.number


def ran(number: int) -> float | str:
    """The voltage that counts, as recorded."""
    return Study.open(Path("studies/box")).history.by_number[number].ran["volts"]


def test_a_pass_is_recorded_once_the_voltage_was_read(late: int) -> None:
    """What was asked for is shown; the same value typed writes the run as it was asked for."""
    result = planner("record", "pass", "--score", 101, typed=f"{RAISED}\n")
    assert result.exit_code == 0
    assert f"asked for: {RAISED} V" in result.stderr
    assert "Record the run" not in result.stderr
    assert ran(late) == RAISED


def test_a_difference_is_told_before_it_is_written(late: int) -> None:
    """And counts, once agreed to."""
    result = planner("record", "pass", "--score", 101, typed="1250mV\ny\n")
    assert f"volts: {RAISED} V was asked for, you read 1.25 V." in result.stderr
    assert ran(late) == 1.25


@pytest.mark.usefixtures("late")
def test_nothing_is_written_where_it_is_not_agreed_to() -> None:
    """The run stays pending."""
    before = ledger(Path("studies/box"))
    assert planner("record", "pass", "--score", 101, typed="1.25\nn\n").exit_code == 2
    assert ledger(Path("studies/box")) == before


def test_what_is_no_voltage_is_asked_again(late: int) -> None:
    """With what was expected."""
    result = planner("record", "pass", "--score", 101, typed=f"high\n{RAISED}\n")
    assert "volts" in result.stderr
    assert result.exit_code == 0
    assert ran(late) == RAISED


@pytest.mark.parametrize("told_how", [["crash"], ["pass", "--actual", "volts=1.25"]])
def test_what_needs_no_question_asks_none(late: int, told_how: list[str]) -> None:
    """A failed run, and a voltage that was typed with the command."""
    assert planner("record", *told_how, typed="").exit_code == 0
    assert late in Study.open(Path("studies/box")).history.by_number


def test_without_a_terminal_nothing_is_asked(late: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Scripts go on as they did."""
    monkeypatch.setattr("planner.cli.record.interactive", lambda: False)
    assert planner("record", "pass", "--score", 101, typed="").exit_code == 0
    assert ran(late) == RAISED
