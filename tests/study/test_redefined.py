"""An edit that changes what earlier words meant: a unit, a stock value, the kind of a knob."""

from pathlib import Path

import pytest

from planner.errors import DefinitionError
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
