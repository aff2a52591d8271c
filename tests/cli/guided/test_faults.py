"""A study.toml that cannot be taken, or a ledger held by others, in the middle of an evening."""

from pathlib import Path

import pytest
from filelock import FileLock

from planner import Study
from planner.store.file import FileLedger
from tests.cli.guided.held import held
from tests.study.makers import bench_tables, on_disk, write


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Where the study lies."""
    return tmp_path / "s"


@pytest.fixture
def study(folder: Path) -> Study:
    """A study that nobody was asked about yet."""
    return on_disk(folder)


def spoil(folder: Path) -> None:
    """A slip in the file."""
    (folder / "study.toml").write_text("[study]\nseed = red", encoding="utf-8")


def test_a_slip_is_named_and_the_pending_run_counts(study: Study, folder: Path) -> None:
    """The last good definition stands for recording; Enter reads the file again."""
    session = held(study, lambda: spoil(folder), "", "", "c 20s", "")
    assert session.flat.count("Error: study.toml") == 4
    assert "the last good one stands, and run 1 counts" in session.flat
    assert "Mend it, then press Enter." in session.flat
    assert [run.outcome for run in study.history.runs] == ["crash"]
    assert session.code == 2


def test_mended_it_goes_on(study: Study, folder: Path) -> None:
    """Enter reads it again: taken over, and the next run is asked for."""
    tables = bench_tables(minutes=90)
    session = held(study, lambda: spoil(folder), "p", lambda: write(folder, tables), "", "p")
    assert "no run> " in session.said
    assert "study.toml was edited: taken over." in session.flat
    assert [run.number for run in study.history.runs] == [1, 2]
    assert study.history.definition.goal.minutes == 90
    assert session.code == 0


def test_without_a_run_to_ask_for_own_runs_and_undo_work(study: Study, folder: Path) -> None:
    """What needs no proposal does not wait for the file; a bare answer has nothing to answer."""
    spoil(folder)
    session = held(study, "p", "own clock=4300 p", "u", "c 20s", "show", "skip")
    assert "no run is pending" in session.flat
    assert [(run.number, run.outcome) for run in study.history.runs] == [(1, "crash")]
    assert "Edge of" in session.flat


def test_a_held_ledger_is_waited_for(
    study: Study, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nothing is recorded meanwhile, and the answer can be typed again; the wait is shortened."""
    monkeypatch.setattr(FileLedger.__init__, "__defaults__", (0.0,))
    impatient = Study.open(folder)
    lock = FileLock(folder / "ledger.jsonl.lock")
    session = held(impatient, lock.acquire, "c 20s", lock.release, "c 20s")
    assert "Nothing was recorded: " in session.flat
    assert "held by another program" in session.flat
    assert [run.outcome for run in study.history.runs] == ["crash"]
    assert session.code == 0


def test_a_ledger_held_when_the_next_run_is_asked_for(
    study: Study, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Enter tries again; left before that, the exit code says so."""
    monkeypatch.setattr(FileLedger.__init__, "__defaults__", (0.0,))
    impatient = Study.open(folder)
    lock = FileLock(folder / "ledger.jsonl.lock")
    lock.acquire()
    session = held(impatient, "", lock.release, "", "p")
    assert "Press Enter to try again." in session.flat
    assert [run.outcome for run in study.history.runs] == ["pass"]
    lock.acquire()
    assert held(Study.open(folder)).code == 0  # what is pending can be answered all the same
    lock.release()
    study.record("pass")
    lock.acquire()
    assert held(Study.open(folder)).code == 5
    lock.release()
