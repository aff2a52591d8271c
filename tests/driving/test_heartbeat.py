"""A machine under test that hangs or restarts, played by real processes and a file in its place."""

from pathlib import Path
from typing import Any

import pytest

from planner.domain.outcome import Outcome
from planner.driving.attempt import Bench
from planner.driving.result import Result
from tests.driving.benches import HANG, SETTING, bench, python

BEAT = python("print('late by 0.3 ms'); print('boot=' + open('up').read())")
DIES = "import os; os.remove('up');"
RESTARTS = "f = open('up', 'w'); f.write('second'); f.close();"


def machine(folder: Path, **drive: Any) -> Bench:
    """A bench whose machine is up while there is a file `up`, which names its boot."""
    (folder / "up").write_text("first", encoding="ascii")
    given = {"heartbeat": BEAT, "heartbeat_misses": 2, "heartbeat_seconds": 30} | drive
    made = bench(folder, **given)
    assert made.reach() == ""
    return made


def run(folder: Path, **drive: Any) -> Result:
    """One run on such a machine."""
    return machine(folder, **drive).run(SETTING, 1.0)


def test_one_that_answers_changes_nothing(tmp_path: Path) -> None:
    """Whatever else it prints."""
    result = run(tmp_path)
    assert (result.outcome, result.down) == (Outcome.PASS, False)


def test_a_hang_is_told_by_the_heartbeat(tmp_path: Path) -> None:
    """The workload would never end; the crash is at the last sign of life."""
    result = run(tmp_path, workload=python(DIES + HANG), heartbeat_seconds=0.4)
    assert (result.outcome, result.down) == (Outcome.CRASH, True)
    assert result.facts["symptom"] == "the machine went down: no heartbeat"
    assert 0 <= result.facts["failed_after_s"] < 60


def test_a_heartbeat_that_hangs_is_none(tmp_path: Path) -> None:
    """A connection that is not refused and never answers."""
    code = f"import os\nif os.path.exists('up'): raise SystemExit\n{HANG}"
    result = run(
        tmp_path, heartbeat=python(code), workload=python(DIES + HANG), heartbeat_seconds=0.4
    )
    assert (result.outcome, result.down) == (Outcome.CRASH, True)


def test_a_restart_is_told_by_the_boot(tmp_path: Path) -> None:
    """However fast it was, and though the workload itself goes on."""
    result = run(tmp_path, workload=python(RESTARTS + HANG), heartbeat_seconds=1)
    assert (result.outcome, result.down) == (Outcome.CRASH, True)
    assert result.facts["symptom"] == "the machine went down: it was restarted"


@pytest.mark.parametrize("end", [DIES, RESTARTS])
def test_a_workload_that_fails_for_want_of_the_machine(tmp_path: Path, end: str) -> None:
    """A connection that breaks looks like an exit code; the heartbeat is asked before it counts."""
    result = run(tmp_path, workload=python(end + "raise SystemExit(255)"))
    assert (result.outcome, result.down) == (Outcome.CRASH, True)
    assert result.facts["symptom"].startswith("the machine went down")


def test_a_failure_of_the_workload_alone_is_its_own(tmp_path: Path) -> None:
    """The machine answers."""
    result = run(tmp_path, workload=python("raise SystemExit(3)"))
    assert (result.outcome, result.down) == (Outcome.CRASH, False)
    assert result.facts["symptom"] == "exit code 3"


def test_a_probe_that_is_lost_with_the_machine(tmp_path: Path) -> None:
    """It is a crash, and no reason to end the drive."""
    probe = python("open('up'); print('hotspot=60')")
    result = run(tmp_path, workload=python(DIES + HANG), probe=probe, probe_seconds=0.3)
    assert (result.outcome, result.down, result.blind) == (Outcome.CRASH, True, "")


def test_values_that_bring_it_down(tmp_path: Path) -> None:
    """Setting them fails since nothing is there any more: a failure to start, no workload."""
    touch = python("open('ran', 'w')")
    result = run(tmp_path, apply=python(DIES + "raise SystemExit(255)"), workload=touch)
    assert (result.outcome, result.down, result.not_set) == (Outcome.NO_START, True, True)
    assert not (tmp_path / "ran").exists()


def test_a_reset_brings_it_back(tmp_path: Path) -> None:
    """It is run only where nothing answers, and said."""
    code = "open('resets', 'a').write('x'); open('up', 'w').write('next')"
    made = machine(tmp_path, reset=python(code))
    assert not (tmp_path / "resets").exists()
    (tmp_path / "up").unlink()
    said: list[str] = []
    made.say = said.append
    assert (made.reach(), said) == ("", ["The machine does not answer: reset."])
    assert (tmp_path / "resets").read_text(encoding="ascii") == "x"
    assert made.run(SETTING, 1.0).outcome is Outcome.PASS


def test_one_that_does_not_come_back(tmp_path: Path) -> None:
    """Twice reset, then it is given up."""
    code = "open('resets', 'a').write('x')"
    made = machine(tmp_path, reset=python(code), boot_minutes=0.001)
    (tmp_path / "up").unlink()
    assert made.reach() == "the machine did not answer within 0.001 min, after 2 resets"
    assert (tmp_path / "resets").read_text(encoding="ascii") == "xx"


@pytest.mark.parametrize(
    ("drive", "said"),
    [
        ({}, "did not answer within 0.001 min; there is no reset command"),
        ({"reset": python("raise SystemExit(5)")}, "reset failed: exit code 5"),
    ],
)
def test_one_that_nothing_brings_back(tmp_path: Path, drive: Any, said: str) -> None:
    """What is wrong is said."""
    made = machine(tmp_path, boot_minutes=0.001, **drive)
    (tmp_path / "up").unlink()
    assert said in made.reach()


def test_a_wish_ends_the_waiting(tmp_path: Path) -> None:
    """For a machine that would take its time."""
    made = machine(tmp_path, boot_minutes=120)
    (tmp_path / "up").unlink()
    made.wish.at_once = True
    assert made.reach() == ""
