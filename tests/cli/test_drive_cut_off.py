"""`planner drive` after a restart, a kill or a power cut: whose run it was, and how it goes on."""

import os
import signal
import subprocess
import sys
from contextlib import suppress
from pathlib import Path

import pytest

from planner import bench, study
from planner.driving import loop, returning
from planner.driving.loop import DOWNS_MOST
from planner.driving.trail import Begun, Trail, UnderWay
from planner.study import Study
from tests.cli.drives import HANG, HOLDS, outcomes, restored, text
from tests.cli.typed import ledger, made, planner, told

ROOT = Path(__file__).parents[2]


def booted(patch: pytest.MonkeyPatch, boot: str) -> None:
    """The planning machine is in this boot."""
    for module in (study, bench, loop, returning):
        patch.setattr(module, "boot_mark", lambda: boot)


@pytest.fixture
def pending(monkeypatch: pytest.MonkeyPatch) -> Path:
    """A study whose run 1 was asked for by a person; then the machine was restarted."""
    booted(monkeypatch, "one")
    folder = made(text=text())
    told("drive", "--agree", "--dry-run")
    told("next")
    booted(monkeypatch, "two")
    return folder


def test_a_persons_run_is_asked_about(pending: Path) -> None:
    """It is not taken for a crash of drive's: exit code 4 and an unchanged ledger."""
    before = ledger(pending)
    owed = planner("drive", "--agree")
    assert owed.exit_code == 4
    assert "has no answer yet" in owed.stderr
    assert (ledger(pending), (pending / "restored").exists()) == (before, False)
    told("record", "pass")
    told("drive", "--runs", "1")
    assert outcomes(pending)[0] == "pass"


@pytest.mark.parametrize(
    ("answer", "first"), [("crash", "crash"), ("void", "void"), ("again", "pass")]
)
def test_on_a_terminal_it_asks(
    pending: Path, answer: str, first: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is still to be run is run."""
    monkeypatch.setattr("planner.cli.driven.interactive", lambda: True)
    (pending / "study.toml").write_text(text(workload="pass"), encoding="utf-8")
    planner("drive", "--agree", "--runs", "1", typed=f"what?\n{answer}\n")
    assert outcomes(pending)[0] == first
    assert len(outcomes(pending)) == 1 + (answer != "again")


def test_a_run_asked_for_by_drive_and_not_begun_is_run(pending: Path) -> None:
    """It was cut off between asking and setting; a person's, given out after that, is not its."""
    Trail(pending).write(UnderWay("zero"))
    assert planner("drive", "--agree").exit_code == 4
    Trail(pending).write(UnderWay("one"))
    told("drive", "--runs", "1")
    assert [run.number for run in Study.open(pending).history.runs] == [1]


def test_drives_own_run_is_a_crash(pending: Path) -> None:
    """It was begun; the values are put back, it is said, and the search goes on elsewhere."""
    Trail(pending).write(UnderWay("one", begun=Begun(1, 1e9, 3.0)))
    went_on = told("drive", "--agree", "--runs", "1")
    assert "planner amend 1 void" in " ".join(went_on.stderr.split())
    crash, after = Study.open(pending).history.runs
    assert (crash.outcome, crash.failed_after_s) == ("crash", 0.06)  # no longer than it was to run
    assert crash.ran != after.ran
    assert restored(pending)[0] == "4200"
    assert Trail(pending).read() is None


def test_a_script_at_boot_goes_on_only_where_one_was_cut_off(pending: Path) -> None:
    """Without one it does nothing at all; with one it goes on as a person would."""
    before = ledger(pending)
    assert "nothing to go on with" in told("drive", "--resume").stderr
    assert ledger(pending) == before
    Trail(pending).write(UnderWay("one", begun=Begun(1, 1e9, 3.0)))
    assert planner("drive", "--resume").exit_code == 4  # nobody has agreed
    assert ledger(pending) == before
    told("drive", "--agree", "--resume", "--runs", "1")
    assert outcomes(pending)[0] == "crash"
    assert "nothing to go on with" in told("drive", "--resume").stderr


class _PowerCutError(BaseException):
    """The machine goes down under the planner."""


def test_it_never_loops_on_a_machine_that_will_not_stay_up(
    pending: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each boot finds a crash at another setting; after a few a person is needed."""
    tried: list[object] = []

    def dies(self: object, setting: object, *_: object) -> None:
        tried.append(setting)
        raise _PowerCutError

    told("record", "void")
    Trail(pending).write(UnderWay("one"))
    codes = []
    for boot in range(DOWNS_MOST + 3):
        with monkeypatch.context() as patch:
            booted(patch, f"boot {boot}")
            patch.setattr("planner.driving.attempt.Bench.run", dies)
            patch.setattr("planner.driving.trail.Trail.clear", lambda self: None)
            with suppress(_PowerCutError):
                stopped = planner("drive", "--agree", "--resume")
                codes.append(stopped.exit_code)
    assert codes == [7] * 3
    assert len(tried) == DOWNS_MOST
    assert all(tried.count(setting) == 1 for setting in tried)
    assert f"in {DOWNS_MOST} runs in a row" in stopped.stderr


def test_once_a_person_is_needed_a_script_at_boot_does_nothing(pending: Path) -> None:
    """The stop is not undone by the next restart."""
    Trail(pending).write(UnderWay("one", downs=DOWNS_MOST - 1, begun=Begun(1)))
    assert planner("drive", "--agree", "--resume").exit_code == 7
    assert "nothing to go on with" in told("drive", "--resume").stderr


def test_a_killed_drive_leaves_what_the_next_one_needs(tmp_path: Path) -> None:
    """kill -9 in mid-run: void on the same boot, the values put back, and the search goes on."""
    hangs = f"open('began', 'w'); {HANG}"
    folder = made(text=text(workload=hangs).replace("0.001", "60"))
    code = [sys.executable, "-m", "planner", "drive", "--agree"]
    environment = os.environ | {"PYTHONPATH": str(ROOT)}
    drive = subprocess.Popen(code, env=environment, stderr=subprocess.PIPE, text=True)
    assert drive.stderr is not None
    with drive.stderr:
        while not (folder / "began").exists():
            assert drive.poll() is None
    left = Trail(folder).read()
    drive.send_signal(signal.SIGKILL)
    drive.wait()
    assert left is not None
    assert left.begun is not None
    assert left.begun.run == 1
    (folder / "study.toml").write_text(text(workload=HOLDS), encoding="utf-8")
    again = told("drive", "--agree", "--resume", "--runs", "1")
    said = " ".join(again.stderr.split())
    assert "1 process of the earlier drive ended" in said
    assert "recorded as void" in said
    assert outcomes(folder)[0] == "void"
    assert restored(folder)[0] == "4200"


def test_a_machine_put_back_holds_stock_again(tmp_path: Path) -> None:
    """After a pass, too: what is to be changed for the next run is told from there."""
    made(text=text(workload="pass"))
    told("drive", "--agree", "--runs", "2")
    history = Study.open("studies/box").history
    assert history.runs[-1].ran != history.definition.stock
    assert history.machine == history.definition.stock
