"""After a reset, a kill or a power cut in mid-drive: what the next start makes of it."""

import json
import os
import signal
import subprocess
import sys
import time
from dataclasses import asdict, replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner import Study
from planner.domain.launch import Command
from planner.drive import returning
from planner.drive.loop import Wanted
from planner.drive.process import TOKEN, Process
from planner.drive.room import Room
from planner.drive.screen import End
from planner.drive.under_way import Begun, Phase, Trail, UnderWay
from planner.errors import AnswerOwed, LedgerUnwritable
from tests.drive.makers import done, driven, driven_tables, rigged

ROOT = Path(__file__).parents[2]
BY_SCRIPT = Wanted(by_hand=False)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A study with a run on record and one pending."""
    study = rigged(tmp_path / "s", driven_tables())
    study.record("pass", settings={})
    study.next()
    return tmp_path / "s"


def left(folder: Path, begun: Begun | None, boot: str = "earlier", **told: Any) -> None:
    """An earlier drive that was not ended."""
    trail = Trail(Room.of(folder).under_way)
    trail.write(UnderWay(True, told.pop("token", "t"), boot, begun=begun, **told))


def last(folder: Path) -> Any:
    """The last run on record."""
    return Study.open(folder).history.runs[-1]


def test_a_machine_that_went_down_is_a_crash_with_its_time(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Between its last sign of life and the start of this boot."""
    monkeypatch.setattr(returning, "boot_instant", lambda: 1_000_100.0)
    left(folder, Begun(2, Phase.RUNNING, alive_s=0.01, started=1_000_000.0))
    driven(Study.open(folder), folder, Wanted(runs=1))
    crash = Study.open(folder).history.by_number[2]
    assert (str(crash.outcome), crash.failed_after_s) == ("crash", 0.01)
    assert "last sign of life after 0 s, started anew within 100 s" in crash.note
    asked = Study.open(folder).history.by_number[3].settings
    assert asked != crash.settings
    assert done(folder)[0] == "restore"


@pytest.mark.parametrize(
    ("instant", "started"),
    [(None, 1e6), (1e6, 0.0), (999_000.0, 1e6), (2e6, 1e6), (1e6 + 5, 1e6)],
)
def test_clocks_that_do_not_fit_bound_nothing(
    folder: Path, monkeypatch: pytest.MonkeyPatch, instant: float | None, started: float
) -> None:
    """Set back, far off, or unknown: the last sign of life alone stands, never a negative time."""
    monkeypatch.setattr(returning, "boot_instant", lambda: instant)
    begun = Begun(2, Phase.RUNNING, alive_s=7.0, started=started)
    found = returning.finding(UnderWay(True, "t", "earlier", begun=begun), begun, 5.0)
    assert (found.outcome, found.facts["failed_after_s"]) == ("crash", 7.0)
    assert "started anew" not in found.why


def test_one_that_went_down_while_values_were_applied(folder: Path) -> None:
    """It was written down as begun before anything was applied."""
    left(folder, Begun(2))
    driven(Study.open(folder), folder, Wanted(runs=1))
    crash = Study.open(folder).history.by_number[2]
    assert (str(crash.outcome), crash.failed_after_s) == ("crash", 0.0)


def test_a_drive_that_was_ended_from_outside_says_nothing(folder: Path) -> None:
    """The same boot: the machine did not go down."""
    from planner.bench import boot_mark

    left(folder, Begun(2, Phase.RUNNING, alive_s=3), boot=boot_mark())
    driven(Study.open(folder), folder, Wanted(runs=1))
    assert str(Study.open(folder).history.by_number[2].outcome) == "void"


def test_a_result_that_was_not_yet_recorded_is(folder: Path) -> None:
    """It had ended; a full disk or a reset came before the ledger."""
    facts = {"score": 77.0}
    left(folder, Begun(2, Phase.OVER, outcome="pass", facts=facts))
    driven(Study.open(folder), folder, Wanted(runs=1))
    run = Study.open(folder).history.by_number[2]
    assert (str(run.outcome), run.score) == ("pass", 77.0)


def test_a_result_that_was_recorded_is_not_doubled(folder: Path) -> None:
    """The reset came between the ledger and the trail."""
    study = Study.open(folder)
    study.record("pass", number=2)
    left(folder, Begun(2, Phase.OVER, outcome="crash"))
    driven(study, folder, Wanted(runs=1))
    assert [str(r.outcome) for r in study.history.runs if r.number == 2] == ["pass"]


def test_a_run_that_was_asked_for_and_not_begun_is_run(folder: Path) -> None:
    """Nothing was applied: it is no crash."""
    left(folder, None)
    _, _, screen = driven(Study.open(folder), folder, Wanted(runs=1))
    assert screen.runs[0][0].number == 2


def test_a_spoilt_trail_counts_as_a_crash(folder: Path) -> None:
    """Better a setting too few than one that kills the machine in a loop."""
    for spoilt in (b"", b"{", b"[1]", b"\xff", b'{"begun": {"run": []}}', b"{" * 100_000):
        Room.of(folder).under_way.write_bytes(spoilt)
        trail = Trail(Room.of(folder).under_way)
        assert (trail.read().whole, trail.read().unattended) == (False, True)
    driven(Study.open(folder), folder, Wanted(runs=1))
    assert str(Study.open(folder).history.by_number[2].outcome) == "crash"


def test_after_a_failed_run_at_stock_a_person_is_asked(folder: Path) -> None:
    """A script at boot does not try it again; a person may."""
    left(folder, Begun(0, Phase.RUNNING, alive_s=3))
    with pytest.raises(AnswerOwed, match="at stock values"):
        driven(Study.open(folder), folder, BY_SCRIPT)
    how, _, screen = driven(Study.open(folder), folder, Wanted(runs=1))
    assert (how, "at stock values" in screen.words[0]) == (End.ASKED, True)


def test_it_never_loops_on_a_machine_that_will_not_stay_up(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each boot finds a crash; after as many as [drive] allows a person is needed."""
    study = rigged(tmp_path / "s", driven_tables({"failures": 3}))
    study.record("pass", settings={})
    asked, ends = [], []
    for boot in range(6):
        monkeypatch.setattr("planner.drive.loop.boot_mark", lambda boot=boot: f"boot {boot}")
        monkeypatch.setattr(returning, "boot_mark", lambda boot=boot: f"boot {boot}")
        try:
            how, _, _ = driven_into_death(study, tmp_path / "s", asked)
        except AnswerOwed:
            how = End.PERSON
        ends.append(how)
    assert ends[3:] != [None] * 3
    assert None in ends
    assert all(how in (End.FAILED, End.PERSON) for how in ends[ends.index(End.FAILED) :])
    assert len(asked) == len({tuple(s.items()) for s in asked}) == 3


class _Dies(BaseException):
    """The machine goes down under the planner."""


def driven_into_death(study: Study, folder: Path, asked: list[Any]) -> Any:
    """A drive by a script at boot, on a machine that goes down with every run."""
    from planner.drive.attempt import Attempt
    from planner.drive.loop import Loop

    def run(self: Attempt, proposal: Any, token: str) -> Any:
        self._write_down(Begun(proposal.number, Phase.RUNNING, alive_s=0.0))
        asked.append(proposal.settings)
        raise _Dies

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Attempt, "run", run)
        patch.setattr(Loop, "_leave", lambda self: None)
        try:
            return driven(study, folder, BY_SCRIPT)
        except _Dies:
            return None, "", None


def test_too_many_restarts_without_an_end_need_a_person(folder: Path) -> None:
    """Whatever is at fault."""
    left(folder, None, resumes=6)
    with pytest.raises(AnswerOwed, match="restarted 6 times"):
        driven(Study.open(folder), folder, BY_SCRIPT)


def test_its_processes_are_ended_first(folder: Path) -> None:
    """A workload that went on without its drive."""
    command = Command((sys.executable, "-S", "-c", "import time; time.sleep(60)"), 60)
    process = Process(command, command.words, {**os.environ, TOKEN: "tok"}, folder)
    left(folder, None, token="tok")
    _, _, screen = driven(Study.open(folder), folder, Wanted(runs=1))
    assert "1 processes of the earlier drive were ended" in screen.words[0]
    process.end()
    assert process.status() == -9


def test_nothing_is_run_that_cannot_be_written_down(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A full disk: no workload, and the run stays pending."""

    def full(*_: Any, **__: Any) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("planner.drive.under_way.write_whole_file", full)
    with pytest.raises(LedgerUnwritable, match="nothing is run"):
        driven(Study.open(folder), folder)
    assert done(folder) == []


@given(st.binary(max_size=200) | st.text(max_size=100).map(str.encode))
def test_any_bytes_for_a_trail_are_read(
    tmp_path_factory: pytest.TempPathFactory, data: bytes
) -> None:
    """Without an error, and never as if nothing had been under way."""
    path = tmp_path_factory.getbasetemp() / "trail.json"
    path.write_bytes(data)
    assert Trail(path).read() is not None


def test_a_trail_comes_back_as_it_was(tmp_path: Path) -> None:
    """Every field; unknown ones of a later version are passed over."""
    begun = Begun(7, Phase.RUNNING, 3.5, 1e9, "", {"score": 1.0})
    told = UnderWay(False, "t", "b", 2, 5, begun)
    trail = Trail(tmp_path / "trail.json")
    trail.write(told)
    assert trail.read() == told
    later = {**asdict(told), "new": 1, "begun": {**asdict(begun), "newer": 2}}
    (tmp_path / "trail.json").write_text(json.dumps(later))
    assert trail.read() == told
    assert replace(told, whole=False) != told


def test_a_killed_drive_leaves_what_the_next_one_needs(tmp_path: Path) -> None:
    """kill -9 in mid-run: void on the same boot, its workload ended, and the search goes on."""
    folder = tmp_path / "studies" / "s"
    study = rigged(folder, driven_tables(launch={"limit": 60}), edge=4100, failing="hangs")
    study.record("pass", settings={})
    environment = os.environ | {"PYTHONPATH": str(ROOT), "PLANNER_STATE": str(tmp_path / "state")}
    planner = [sys.executable, "-m", "planner"]
    told = subprocess.run(
        [*planner, "agree", "s"], cwd=tmp_path, env=environment, capture_output=True, text=True
    )
    code = told.stderr.split("--code ")[1].split()[0]
    subprocess.run([*planner, "agree", "s", "--code", code], cwd=tmp_path, env=environment)
    drive = subprocess.Popen(
        [*planner, "drive", "s"], cwd=tmp_path, env=environment, stdout=subprocess.DEVNULL
    )
    trail = Trail(folder / "drive" / "under-way.json")
    while "hang" not in done(folder):
        assert drive.poll() is None
        time.sleep(0.01)
    now = trail.read()
    drive.send_signal(signal.SIGKILL)
    drive.wait()
    (folder / "rig.json").write_text('{"clock": 4200, "stock": 4200, "edge": 9999}')
    again = subprocess.run(
        [*planner, "drive", "s", "--resume", "--runs", "1"],
        cwd=tmp_path,
        env=environment,
        capture_output=True,
        text=True,
    )
    assert again.returncode == 0, again.stderr
    assert "processes of the earlier drive were ended" in again.stderr
    run = Study.open(folder).history.by_number[now.begun.run]
    assert str(run.outcome) == "void"
    assert "ended from outside" in run.note
