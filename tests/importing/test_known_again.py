"""Rows whose run is on record already are left out, so that no run counts twice."""

from typing import Any

import pytest

from planner import Study
from planner.errors import LedgerUnwritable, RecordError
from planner.importing.recording import record_planned
from tests.importing.makers import copied, csv_of, lab, planned, take
from tests.study.makers import facts

NOTEBOOK = "outcome,clock,note\npass,4500,\npass,4500,\npass,4500,\ncrash,4600,\n"


@pytest.fixture
def study() -> Study:
    """A fresh one."""
    return Study.create(lab())


def test_a_notebook_that_grew_brings_in_what_is_new(study: Study) -> None:
    """Runs alike are counted within the file: three passes are three runs, each time."""
    assert len(take(study, NOTEBOOK)) == 4
    assert take(study, NOTEBOOK) == []
    assert take(study, NOTEBOOK + "pass,4500,\npass,4550,\n") == [5, 6]
    assert len(study.history.runs) == 6


def test_the_way_it_is_written_does_not_matter(study: Study) -> None:
    """A spreadsheet may save it with other separators, units and ends of line."""
    take(study, NOTEBOOK)
    assert take(study, NOTEBOOK.replace(",", ";").replace("4500", "4,5 GHz")) == []
    assert take(study, "clock [GHz],outcome\r\n4.5,Pass\r\n") == []


def test_an_edited_row_is_another_run(study: Study) -> None:
    """Nothing else could be told from the file alone."""
    take(study, NOTEBOOK)
    assert take(study, NOTEBOOK.replace("crash,4600,", "crash,4600,hm")) == [5]


def test_a_label_tells_two_evenings_apart(study: Study) -> None:
    """Rows alike of another evening are runs of their own, and known again under that label."""
    take(study, NOTEBOOK)
    assert len(take(study, NOTEBOOK, label="evening 2")) == 4
    assert take(study, NOTEBOOK, label="evening 2") == []
    assert take(study, NOTEBOOK) == []
    assert [run.origin.startswith("evening 2, row ") for run in study.history.runs] == (
        [False] * 4 + [True] * 4
    )


def test_a_struck_run_stays_struck(study: Study) -> None:
    """What was amended here is not brought back by the file."""
    take(study, NOTEBOOK)
    study.amend(4, outcome="void")
    plan = planned(study, NOTEBOOK)
    assert plan.runs == ()
    assert [(row.line, row.number) for row in plan.known if row.differs] == [(5, 4)]


def test_an_export_is_known_in_every_study(study: Study) -> None:
    """By number, bench and time, however far it was handed on."""
    study.record("pass", settings={"clock": 4500})
    study.record("pass", settings={"clock": 4500})
    second = copied(study)
    third = copied(second)
    for taker in (study, second, third):
        for giver in (study, second, third):
            assert take(taker, csv_of(giver)) == []
    study.record("pass", settings={"clock": 4500})
    assert take(third, csv_of(study)) == [3]


def test_runs_of_two_studies_come_together(study: Study) -> None:
    """The same setting on two benches is two runs."""
    other = Study.create(lab())
    study.record("pass", settings={"clock": 4500})
    other.record("pass", settings={"clock": 4500})
    theirs = csv_of(other).replace(f",{other.bench},", ",right,")
    assert take(study, theirs) == [2]
    assert study.history.runs[1].origin.startswith("run 1 of right, 20")


def test_a_row_that_tells_otherwise_by_now_is_named(study: Study) -> None:
    """The record stands; the person is told which run to amend."""
    study.record("pass", settings={"clock": 4500}, score=900)
    study.record("pass", settings={"clock": 4500}, score=900)
    edited = csv_of(study).replace(",900,", ",901,", 1)
    plan = planned(study, edited)
    assert [(row.line, row.number, row.differs) for row in plan.known] == [
        (2, 1, True),
        (3, 2, False),
    ]


def test_a_time_told_is_kept(study: Study) -> None:
    """The ledger's own time is when the row was taken in."""
    take(study, "outcome,clock,time\npass,4500,2019-12-31 23:59\npass,4500,2020-01-01 00:10\n")
    first, second = study.history.runs
    assert first.origin.startswith("2019-12-31 23:59, row ")
    assert second.origin.startswith("2020-01-01 00:10, row ")


@pytest.mark.parametrize("stop", [0, 1, 3])
def test_a_broken_import_goes_on_where_it_stopped(
    study: Study, monkeypatch: pytest.MonkeyPatch, stop: int
) -> None:
    """The same file once more gives what it would have given in one go, boots included."""
    rows = ["pass,4500,1,no", "crash,4600,2,yes", "pass,4500,3,no", "pass,4500,3,no"]
    text = "\n".join(["outcome,clock,boot,cold", *rows])
    whole = Study.create(lab())
    take(whole, text)
    kept = Study.record
    done: list[int] = []

    def record(self: Study, *given: Any, **told: Any) -> Any:
        if len(done) == stop:
            raise LedgerUnwritable("the disk is full")
        done.append(1)
        return kept(self, *given, **told)

    monkeypatch.setattr(Study, "record", record)
    with pytest.raises(LedgerUnwritable):
        take(study, text)
    monkeypatch.setattr(Study, "record", kept)
    assert len(study.history.runs) == stop
    assert len(take(study, text)) == 4 - stop
    assert [*map(facts, study.history.runs)] == [*map(facts, whole.history.runs)]


def test_no_row_answers_a_proposal(study: Study) -> None:
    """If another window asks for a run meanwhile, it stops; what was recorded stays."""
    recording = record_planned(study, planned(study, NOTEBOOK))
    next(recording)
    assert study.next() is not None
    with pytest.raises(RecordError, match="pending"):
        next(recording)
    assert [run.asked for run in study.history.runs] == [None]
    assert study.pending is not None
