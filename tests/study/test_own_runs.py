"""Runs that the person chose alone: any knobs named, on or off their steps, as set and as ran."""

from typing import Any

import pytest

from planner import Study
from planner.errors import RecordError
from planner.gate import gate_of
from tests.domain.makers import clock, mode, tables
from tests.study.makers import bench_tables

STOCK = {"clock": 4200.0, "volts": 1.2, "timing": 44.0}


@pytest.fixture
def study() -> Study:
    """A live clock, a voltage, a timing."""
    return Study.create(bench_tables())


def test_knobs_not_named_are_as_the_machine_holds_them(study: Study) -> None:
    """Run after run of one knob each."""
    steps = [{"clock": 4500}, {"volts": "1250 mV"}, {"timing": 40}, {}]
    for step in steps:
        study.record("pass", settings=step)
    assert [run.settings for run in study.history.runs] == [
        STOCK | {"clock": 4500.0},
        STOCK | {"clock": 4500.0, "volts": 1.25},
        STOCK | {"clock": 4500.0, "volts": 1.25, "timing": 40.0},
        STOCK | {"clock": 4500.0, "volts": 1.25, "timing": 40.0},
    ]


@pytest.mark.parametrize(
    ("named", "value"),
    [("4.5GHz", 4500.0), ("4500", 4500.0), (4533.3, 4533.3), (5700, 5700.0), ("-1", -1.0)],
)
def test_off_the_steps_and_out_of_range_is_told_as_it_was(
    study: Study, named: Any, value: float
) -> None:
    """It happened, so it is recorded; the gate still forbids to propose it."""
    run = study.record("crash", settings={"clock": named})
    assert run.settings["clock"] == run.ran["clock"] == value
    assert gate_of(study.history).permits(run.settings) is (value == 4500.0)


def test_runs_beside_the_grid_are_evidence() -> None:
    """Passes up to 4790 MHz and crashes from 4810 MHz on put the edge between 4700 and 4900."""
    study = Study.create(bench_tables())
    for megahertz, outcome in [
        (4710, "pass"),
        (4790, "pass"),
        (4810, "crash"),
        (4890, "crash"),
    ] * 3:
        study.record(outcome, settings={"clock": megahertz})
    edge = study.edges()["clock"]
    assert edge.runs == 12
    assert 4600 < edge.interval[0] < edge.value < edge.interval[1] < 4900
    asked = study.next()
    assert asked is None or asked.settings["clock"] in (4600, 4700, 4800, 4900)


def test_what_really_ran_is_what_counts() -> None:
    """The firmware clipped 4800 MHz to 4400: evidence of 4400, and the setting stays as set."""
    clipped, plain = Study.create(bench_tables()), Study.create(bench_tables())
    run = clipped.record("pass", settings={"clock": 4800}, actual={"clock": "4.4 GHz"})
    plain.record("pass", settings={"clock": 4400})
    assert (run.settings["clock"], run.ran["clock"]) == (4800.0, 4400.0)
    assert clipped.edges()["clock"] == plain.edges()["clock"]
    assert clipped.history.machine["clock"] == 4800


def test_an_answer_with_actual_is_an_answer(study: Study) -> None:
    """What ran otherwise than asked counts as what ran."""
    asked = study.next()
    run = study.record("pass", actual={"clock": 4300})
    assert (run.number, run.settings, run.ran["clock"]) == (asked.number, asked.settings, 4300.0)


def test_evidence_above_a_ceiling_is_evidence() -> None:
    """The person went there alone; proposals still don't."""
    study = Study.create(tables(clock(everyday=4500)))
    study.record("pass", settings={"clock": 4900})
    edge, asked = study.edges()["clock"], study.next()
    assert edge.runs == 1
    assert asked is None or asked.settings["clock"] <= 4500


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ({"clok": 4500}, "settings: 'clok' is no knob of this study, expected one of clock, mode"),
        ({"clock": "fast"}, "settings: clock = 'fast': expected a number in MHz"),
        ({"clock": "1.2V"}, "unit 'V' does not match, expected MHz"),
        ({"clock": True}, "settings: clock = True"),
        ({"clock": None}, "settings: clock = None"),
        ({"clock": float("nan")}, "settings: clock = nan: expected a finite number"),
        ({"mode": "c"}, "settings: mode = 'c': expected one of a, b"),
        ({"mode": 1}, "settings: mode = 1: expected one of a, b"),
        (4500, "settings = 4500: expected values by knob name"),
        ([("clock", 4500)], "expected values by knob name"),
        ("clock=4500", "expected values by knob name"),
    ],
)
def test_settings_that_cannot_be_are_refused(settings: Any, said: str) -> None:
    """Fact, knob, value and expectation; nothing is written."""
    study = Study.create(tables(clock(), mode()))
    head = study.head
    for facts in ({"settings": settings}, {"settings": {}, "actual": settings}):
        with pytest.raises(RecordError) as caught:
            study.record("pass", **facts)
        assert said.removeprefix("settings") in str(caught.value)
    assert study.head == head


def test_a_run_of_another_workload_says_nothing_of_this_one() -> None:
    """It is kept with its own length, and the edge is of the study's workload."""
    given = bench_tables() | {"workload": [{"name": "short"}, {"name": "long", "minutes": 30}]}
    study = Study.create(given)
    before = study.edges()["clock"]
    run = study.record("crash", settings={"clock": 4300}, workload="long")
    assert (run.workload, run.run_minutes) == ("long", 30.0)
    assert study.edges()["clock"] == before
    with pytest.raises(RecordError, match="workload = 'lang': expected one of short, long"):
        study.record("pass", settings={}, workload="lang")
