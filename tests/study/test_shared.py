"""One study from several windows and benches: nothing lost, nothing asked or told twice."""

from pathlib import Path

import pytest

from planner import Study
from planner.domain.event import Kind
from planner.errors import RecordError
from tests.study.makers import bench_tables, events_of, on_disk, write


@pytest.fixture
def windows(tmp_path: Path) -> tuple[Study, Study]:
    """Two objects on one folder."""
    return on_disk(tmp_path / "s"), Study.open(tmp_path / "s")


def test_both_see_the_same_pending(windows: tuple[Study, Study]) -> None:
    """Asked in one, answered in the other, known in the first."""
    one, other = windows
    asked = one.next()
    assert other.pending == other.next() == asked
    run = other.record("pass", score=900)
    assert one.pending is None
    assert one.history.runs == other.history.runs == (run,)
    assert one.next() == other.next()


def test_an_answer_is_taken_once(windows: tuple[Study, Study]) -> None:
    """The second window is told that nothing is pending, or what was recorded."""
    one, other = windows
    asked = one.next()
    other.record("crash")
    with pytest.raises(RecordError, match="nothing is pending"):
        one.record("pass")
    with pytest.raises(RecordError, match="on record as crash"):
        one.record("pass", number=asked.number)
    assert [run.outcome for run in one.history.runs] == ["crash"]


def test_everything_told_in_one_counts_in_the_other(windows: tuple[Study, Study]) -> None:
    """Amendments, accepted risks, boots, closing and reopening."""
    one, other = windows
    one.record("pass", settings={"clock": 4500})
    other.amend(1, outcome="crash")
    one.accept_risk("volts", 1.28)
    other.boot(cold=True)
    one.close("tired")
    assert other.next() is None
    other.reopen()
    assert one.next() is not None
    assert one.history == other.history
    assert other.history.accepted == {"volts": 1.28}


def test_an_edit_is_adopted_once(windows: tuple[Study, Study], tmp_path: Path) -> None:
    """By whichever asks first."""
    one, other = windows
    write(tmp_path / "s", bench_tables(minutes=90))
    assert one.next() == other.next()
    assert [e.kind for e in events_of(one)] == [Kind.DEFINED, Kind.DEFINED, Kind.PROPOSED]
    assert other.history.definition.goal.minutes == 90


@pytest.fixture
def benches(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[Study, Study]:
    """Two benches at one study."""
    monkeypatch.setenv("PLANNER_BENCH", "left")
    left = on_disk(tmp_path / "s")
    monkeypatch.setenv("PLANNER_BENCH", "right")
    return left, Study.open(tmp_path / "s")


def test_each_bench_has_its_own_pending(benches: tuple[Study, Study]) -> None:
    """Numbers of their own; each answers its own; both see all runs."""
    left, right = benches
    asked, asked_too = left.next(), right.next()
    assert (asked.number, asked.bench) == (1, "left")
    assert (asked_too.number, asked_too.bench) == (2, "right")
    assert set(left.history.pending) == {"left", "right"}
    assert right.record("pass").number == 2
    assert (left.pending.number, left.pending.settings) == (asked.number, asked.settings)
    assert left.record("crash").number == 1
    assert [(r.number, r.bench) for r in right.history.runs] == [(2, "right"), (1, "left")]


def test_one_may_answer_for_the_other_by_number(benches: tuple[Study, Study]) -> None:
    """The planner runs on another machine than the one under test."""
    left, right = benches
    asked = left.next()
    assert right.record("pass", number=asked.number).number == asked.number
    assert left.pending is None


def test_each_bench_has_its_own_machine(benches: tuple[Study, Study]) -> None:
    """A run on the right one turns no knob of the left one, whose changes stay as they were."""
    left, right = benches
    asked = left.next()
    right.next()
    right.record("pass")
    assert left.pending.changes == asked.changes


def test_each_bench_has_its_own_boots(benches: tuple[Study, Study]) -> None:
    """A cold start of the right one is none of the left one; no two share a number."""
    left, right = benches
    for study in (left, right):
        study.record("pass", settings={"clock": 4300})
    right.boot(cold=True)
    for study in (left, right):
        study.record("pass", settings={"clock": 4300})
    runs = left.history.runs
    assert [run.bench for run in runs] == ["left", "right", "left", "right"]
    assert [run.cold for run in runs] == [False, False, False, True]
    assert [run.boot_told for run in runs] == [False, False, False, True]
    assert runs[0].boot == runs[2].boot
    assert len({run.boot for run in runs}) == 3
