"""An edit that changes what earlier words meant: a unit, a stock value, the kind of a knob."""

from pathlib import Path
from typing import Any

import pytest

from planner.errors import DefinitionError
from planner.gate import gate_of
from planner.strategies import STRATEGIES
from tests.domain.makers import clock, mode, tables
from tests.study.makers import bench_tables, on_disk, write


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Where the study lies."""
    return tmp_path / "study"


def test_a_changed_unit_does_not_change_what_was_told(folder: Path) -> None:
    """It is converted, or the edit is refused; 4.5 GHz never reads as far beyond 5 GHz."""
    study = on_disk(folder, tables(clock()))
    study.record("pass", settings={"clock": 4500})
    write(folder, tables(clock(unit="GHz", low=4, high=5, step=0.1, stock=4.2)))
    try:
        study.adopt()
    except DefinitionError:
        return
    assert study.history.runs[0].ran["clock"] == 4.5


def test_a_corrected_stock_is_what_an_untouched_machine_holds(folder: Path) -> None:
    """Before anything was set there is nothing to dial back."""
    study, given = on_disk(folder), bench_tables()
    given["knob"][1]["stock"] = 1.225
    write(folder, given)
    assert [change.knob for change in study.next().changes] == ["clock"]


@pytest.mark.parametrize("first", ["a", "b"])
def test_a_knob_may_change_its_kind(folder: Path, first: str) -> None:
    """A choice becomes a range that is not searched: runs at its words say nothing of numbers."""
    study = on_disk(folder, tables(clock(), mode()))
    study.record("pass", settings={"clock": 4500, "mode": first})
    ranged = clock(name="mode", unit="", low=1, high=4, step=1, stock=1)
    write(folder, tables(clock(), ranged))
    assert study.next().settings["mode"] == 1


@pytest.mark.parametrize("strategy", STRATEGIES)
def test_the_searched_knob_may_have_been_a_choice(folder: Path, strategy: str) -> None:
    """Its words are no evidence of where its edge lies."""
    study = on_disk(folder, tables(clock(), mode()))
    study.record("pass", settings={"mode": "b"})
    ranged = clock(name="mode", unit="", low=1, high=9, step=1, stock=1)
    write(folder, tables(clock(), ranged, study={"knob": "mode", "strategy": strategy}))
    assert study.next().number == 2
    while study.next() is not None:
        study.record("pass")
    assert study.recommendation().settings["mode"] > 1


def guarded(unit: str, volt: float) -> dict[str, Any]:
    """The study's tables with a derived voltage and a reading in a unit, `volt` to the volt."""
    real = {"name": "real", "unit": unit, "sum": ["volts"]}
    real |= {"everyday": 1.25 * volt, "own_risk": 1.3 * volt}
    loaded = {"name": "loaded", "unit": unit, "stop": 1.4 * volt}
    return bench_tables() | {"derived": [real], "reading": [loaded]}


def test_an_accepted_risk_keeps_its_meaning(folder: Path) -> None:
    """1280 mV were accepted: in volts it is 1.28 or nothing, never all of own-risk."""
    study = on_disk(folder, guarded("mV", 1000))
    study.accept_risk("real", 1280)
    write(folder, guarded("V", 1))
    try:
        study.adopt()
    except DefinitionError:
        return
    assert gate_of(study.history).ceilings["real"] <= 1.28


def test_a_reading_past_its_stop_stays_past_it(folder: Path) -> None:
    """Whatever unit the file has later, or the edit is refused."""
    study = on_disk(folder, guarded("V", 1))
    study.record("pass", settings={"clock": 4500}, readings={"loaded": 1.45})
    write(folder, guarded("mV", 1000))
    try:
        study.adopt()
    except DefinitionError:
        return
    assert not gate_of(study.history).permits(study.history.runs[0].ran)


def test_a_stock_edited_after_a_run_is_dialled_in(folder: Path) -> None:
    """The run tells that the machine is at 1.2 V, so 1.225 V is a change to make."""
    study, given = on_disk(folder), bench_tables()
    study.record("pass", settings={"clock": 4500, "volts": 1.2})
    given["knob"][1]["stock"] = 1.225
    write(folder, given)
    asked = study.next()
    assert asked.settings["volts"] == 1.225
    assert ("volts", 1.2, 1.225) in {(c.knob, c.before, c.after) for c in asked.changes}


def test_the_second_knob_of_a_frontier_may_have_been_a_choice(folder: Path) -> None:
    """Its words are no station of the frontier."""
    study = on_disk(folder, tables(clock(), mode()))
    study.record("pass", settings={"clock": 4500, "mode": "b"})
    ranged = clock(name="mode", unit="", low=1, high=9, step=1, stock=1)
    goal = {"knob": "clock", "aim": "frontier", "along": "mode"}
    write(folder, tables(clock(), ranged, study=goal))
    assert study.next().number == 2
    assert {point.runs for point in study.frontier().points} == {0}
