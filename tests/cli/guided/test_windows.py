"""Other windows and benches at the same study while the prompt waits."""

from pathlib import Path

import pytest

from planner import Study
from tests.cli.guided.held import held
from tests.study.makers import bench_tables, on_disk, write


@pytest.fixture
def windows(tmp_path: Path) -> tuple[Study, Study]:
    """Two objects on one folder."""
    return on_disk(tmp_path / "s"), Study.open(tmp_path / "s")


def test_a_run_answered_elsewhere_is_said_so(windows: tuple[Study, Study]) -> None:
    """The answer typed here is not taken for the run after it."""
    here, there = windows
    session = held(here, lambda: there.record("crash", failed_after_s=20), "p score=900", "p")
    assert "That came too late and was not recorded." in session.flat
    assert "Run 1 was answered in another window: crash after 20 s." in session.flat
    assert [(r.number, r.outcome) for r in here.history.runs] == [(1, "crash"), (2, "pass")]


def test_it_is_said_before_the_next_prompt(windows: tuple[Study, Study]) -> None:
    """Any line brings the news, an empty one too; then the next run is shown."""
    here, there = windows

    def elsewhere() -> None:
        there.record("pass")
        there.next()

    session = held(here, elsewhere, "", "c 20s")
    news = session.said.index("Run 1 was answered in another window: pass.")
    assert news < session.said.index("Run 2 of study")
    assert [(r.number, r.outcome) for r in here.history.runs] == [(1, "pass"), (2, "crash")]


def test_a_run_withdrawn_elsewhere_is_said_so(windows: tuple[Study, Study], tmp_path: Path) -> None:
    """By an edit that forbids it, taken over in the other window."""
    here, there = windows

    def elsewhere() -> None:
        tables = bench_tables()
        tables["knob"][0]["everyday"] = 4250
        write(tmp_path / "s", tables)
        there.next()

    session = held(here, elsewhere, "p", "p")
    assert "Nothing was recorded: number = 1: is not pending" in session.flat
    assert "Run 1 is withdrawn: it is not to be run any more." in session.flat
    assert [run.number for run in here.history.runs] == [2]


def test_what_changes_on_the_machine_is_shown_anew(windows: tuple[Study, Study]) -> None:
    """An own run told elsewhere: the same number, with its changes against what is held now."""
    here, there = windows
    session = held(here, lambda: there.record("pass", settings={"clock": 4300}), "", "")
    assert "clock  4200 MHz  ->  " in session.said
    assert "clock  4300 MHz  ->  " in session.said


def test_closed_elsewhere(windows: tuple[Study, Study]) -> None:
    """The verdict is shown; the pending run can still be told, and is the exit code's reason."""
    here, there = windows
    session = held(here, lambda: there.close("the lamp is wanted"), "", "p", "")
    assert "study is closed." in session.flat
    assert "the lamp is wanted" in session.flat
    assert "Run 1 has no answer yet: tell it, if it was run." in session.flat
    assert "Run 1 recorded: pass" in session.flat
    assert session.code == 3


def test_answered_elsewhere_while_an_earlier_one_is_mended(windows: tuple[Study, Study]) -> None:
    """Nothing is withdrawn then, and the news is told after it."""
    here, there = windows
    session = held(here, "p", "u", lambda: there.record("crash"), "c 20s")
    assert "Run 2 was answered in another window: crash." in session.flat
    assert [run.outcome for run in here.history.runs] == ["crash", "crash"]


def test_each_bench_answers_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Another bench's pending run is not asked about here."""
    monkeypatch.setenv("PLANNER_BENCH", "left")
    left = on_disk(tmp_path / "s")
    left.next()
    monkeypatch.setenv("PLANNER_BENCH", "right")
    right = Study.open(tmp_path / "s")
    held(right, "p")
    assert [(run.number, run.bench) for run in right.history.runs] == [(2, "right")]
    assert left.pending is not None


def test_a_run_that_drive_has_begun_is_said_so(windows: tuple[Study, Study]) -> None:
    """It is not the person's to make; nothing is said of another run."""
    here, _ = windows
    words = "planner drive is running this one now, and records run 1 itself."
    assert words in held(here, "", at_work=lambda: 1).flat
    assert "planner drive" not in held(here, "", at_work=lambda: 2).said
