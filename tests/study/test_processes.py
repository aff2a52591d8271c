"""Several processes at one study at the same moment."""

from pathlib import Path

import pytest

from planner import Study
from planner.domain.event import Kind
from planner.replay import fold
from tests.study.makers import events_of, on_disk
from tests.study.processes import ran_together


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A study of the bench at which the processes sit too."""
    monkeypatch.setenv("PLANNER_BENCH", "bench")
    on_disk(tmp_path / "s")
    return tmp_path / "s"


def test_asked_by_three_there_is_one_proposal(folder: Path) -> None:
    """All are given the same, and the ledger has it once."""
    first, *others = ran_together("next", folder, 3)
    assert others == [first, first]
    kinds = [event.kind for event in events_of(Study.open(folder))]
    assert kinds == [Kind.DEFINED, Kind.PROPOSED]


def test_answered_by_three_there_is_one_run(folder: Path) -> None:
    """The others are told; nothing is recorded twice."""
    asked = Study.open(folder).next()
    told = ran_together("answer", folder, 3)
    assert told.count(asked.number) == 1
    assert sum("nothing is pending" in str(answer) for answer in told) == 2
    assert [run.number for run in Study.open(folder).history.runs] == [asked.number]


def test_own_runs_of_two_all_stand(folder: Path) -> None:
    """Twenty runs, twenty numbers, each writer's in its order."""
    one, other = ran_together("own", folder)
    assert sorted(one + other) == list(range(1, 21))
    assert one == sorted(one)
    runs = Study.open(folder).history.by_number
    assert [runs[n].settings["clock"] for n in other] == [4300.0 + i for i in range(10)]


@pytest.mark.slow
def test_two_evenings_at_once_make_one_ledger(folder: Path) -> None:
    """Asking, answering and amending: every proposal answered once, in the order of numbers."""
    ran_together("evening", folder)
    events = events_of(Study.open(folder))
    asked = [e.body["run"] for e in events if e.kind is Kind.PROPOSED]
    told = [e.body["run"] for e in events if e.kind is Kind.RUN]
    assert asked == list(range(1, len(asked) + 1))
    assert told == asked[: len(told)]
    assert Study.open(folder).history == fold(events)
