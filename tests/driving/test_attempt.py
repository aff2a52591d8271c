"""How a run ends is told by how real processes end."""

from pathlib import Path

import pytest

from planner.domain.outcome import Outcome
from planner.domain.parse import parse_text
from planner.driving import process as processes
from planner.driving.attempt import Bench, _counted_minutes
from planner.driving.fitness import drive_of
from planner.errors import InputError
from planner.store import definition_text
from tests.driving.benches import HANG, SETTING, bench, driven, python, run

SHORT = {"minutes": 0.003, "grace_minutes": 0.002}


@pytest.mark.parametrize(
    ("seconds", "minutes"), [(570, 10), (599, 10), (606, 10.1), (569, 9.4833), (0, 0.0001)]
)
def test_a_hair_short_is_nominal(seconds: float, minutes: float) -> None:
    """Of ten minutes: from 95 % on; what is shorter or longer counts as it ran."""
    assert _counted_minutes(seconds, 10) == minutes


@pytest.mark.parametrize("nominal", [0.03, 0.54, 59.94, 1 / 3])
@pytest.mark.parametrize("share", [0.96, 1.0])
def test_a_whole_run_is_never_counted_as_short(nominal: float, share: float) -> None:
    """Though its minutes by way of seconds are a hair less: it would confirm nothing."""
    assert _counted_minutes(nominal * 60 * share, nominal) == nominal


def test_exit_code_0_is_a_pass(tmp_path: Path) -> None:
    """With the minutes that it really ran."""
    result = run(tmp_path)
    assert result.outcome is Outcome.PASS
    assert 0 < result.facts["run_minutes"] < 1
    assert result.facts["note"] == "the workload ended before its nominal minutes"
    assert not result.not_set


@pytest.mark.parametrize(
    ("code", "symptom"),
    [
        ("import sys; sys.exit(3)", "exit code 3"),
        ("import os; os.kill(os.getpid(), 11)", "ended by SIGSEGV"),
        ("import os; os.killpg(0, 9)", "ended by SIGKILL"),
    ],
)
def test_other_ends_are_crashes(tmp_path: Path, code: str, symptom: str) -> None:
    """An exit code or a signal is the symptom, and the time to it is kept."""
    result = run(tmp_path, workload=python(code))
    assert (result.outcome, result.facts["symptom"]) == (Outcome.CRASH, symptom)
    assert 0 <= result.facts["failed_after_s"] < 60


def test_a_hang_is_a_crash(tmp_path: Path) -> None:
    """It is ended at its time limit, 0.3 s here."""
    result = run(tmp_path, workload=python(HANG), **SHORT)
    assert (result.outcome, result.facts["symptom"]) == (Outcome.CRASH, "no end within 0.005 min")
    assert result.facts["failed_after_s"] == pytest.approx(0.18)


def test_garbage_is_read_past(tmp_path: Path) -> None:
    """Bytes that are no UTF-8 around the score; the last match counts."""
    code = r"import os; os.write(1, b'\xff\x00\n\x80total: 12.5\nx total: 13.5 \xfe\n')"
    result = run(tmp_path, workload=python(code), score=r"total: ([0-9.]+)")
    assert (result.outcome, result.facts["score"]) == (Outcome.PASS, 13.5)


def test_a_flood_is_kept_in_bounds(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Of 8 MB the last part is kept, and the program is not held up by it."""
    monkeypatch.setattr(processes, "KEPT_BYTES", 1000)
    code = "import os\nfor _ in range(128): os.write(1, b'x' * 65536)\nos.write(1, b'\\nend 7')"
    started = processes.Process("workload", tuple(python(code)), tmp_path, {})
    assert started.ends_within(60)
    output = started.end().output
    assert (len(output), output[-5:]) == (1000, "end 7")


def test_children_do_not_outlive_it(tmp_path: Path) -> None:
    """A child that hangs and holds the pipe is ended when its parent is done."""
    code = f"""
import os
child = os.fork()
if child:
    os._exit(0)
else:
    {HANG}
"""
    started = processes.Process("workload", tuple(python(code)), tmp_path, {})
    assert started.ends_within(60)
    started.end()
    # It would hold the pipe open for ever: the pipe's end is the child's end.
    assert not started._reader.is_alive()


@pytest.mark.parametrize(
    ("code", "outcome"),
    [
        ("raise SystemExit(1)", Outcome.VOID),
        (HANG, Outcome.NO_START),
        ("import os; os.kill(os.getpid(), 6)", Outcome.NO_START),
    ],
)
def test_values_that_cannot_be_set(tmp_path: Path, code: str, outcome: Outcome) -> None:
    """A refusal says nothing of the setting, a hang or a signal does; no workload is run."""
    touch = python("open('ran', 'w')")
    result = run(
        tmp_path, apply=python(code), workload=touch, apply_minutes=0.005 if code is HANG else 1
    )
    assert (result.outcome, result.not_set) == (outcome, True)
    assert not (tmp_path / "ran").exists()


def test_a_reading_past_its_stop_ends_the_run(tmp_path: Path) -> None:
    """It held until then; the reading is kept and the next run may follow."""
    probe = python("print('hotspot = 97.5C\\nroom=21\\nother=x\\nnonsense')")
    result = run(tmp_path, workload=python(HANG), probe=probe)
    assert (result.outcome, result.blind) == (Outcome.STOPPED, "")
    assert result.facts["readings"] == {"hotspot": 97.5, "room": 21}
    assert result.facts["note"] == "hotspot 97.5 C is past its stop of 95 C"


@pytest.mark.parametrize(
    ("code", "said"),
    [
        ("raise SystemExit(2)", "the probe failed: exit code 2"),
        (HANG, "the probe gave no answer within 0.2 s"),
        ("print('room=21')", "the probe told no hotspot, which has a stop"),
        ("print('hotspot=nan')", "the probe told hotspot as something else than a number"),
    ],
)
def test_a_lost_probe_ends_the_run(tmp_path: Path, code: str, said: str) -> None:
    """Before any reading the run says nothing; and nothing more may be run."""
    seconds = 0.2 if code is HANG else 30
    probe = python(code)
    result = run(tmp_path, workload=python(HANG), probe=probe, probe_seconds=seconds)
    assert (result.outcome, result.blind) == (Outcome.VOID, said)


def test_the_last_words_of_a_command_that_fails_are_told(tmp_path: Path) -> None:
    """Why it failed stands there, as a rule; nothing in them can steer a terminal."""
    code = r"print('read 1.2'); print('no such\x1b[2J sensor'); print(' '); raise SystemExit(2)"
    failed = bench(tmp_path, apply=python(code), restore=python(code))
    said = "failed: exit code 2: no such?[2J sensor"
    assert failed.run(SETTING, 1.0).facts["note"] == f"apply {said}"
    assert failed.restore(SETTING) == f"restore {said}"


def test_a_probe_that_is_lost_later(tmp_path: Path) -> None:
    """The run held up to then."""
    once = "import os; f = os.open('once', os.O_CREAT | os.O_EXCL); print('hotspot=60')"
    result = run(tmp_path, workload=python(HANG), probe=python(once), probe_seconds=2)
    assert (result.outcome, result.facts["readings"]) == (Outcome.STOPPED, {"hotspot": 60})
    assert result.blind.startswith("the probe failed: exit code 1: FileExistsError")


def test_a_wish_to_end_at_once(tmp_path: Path) -> None:
    """The run is void, and ends though its workload would not."""
    wished = bench(tmp_path, workload=python(HANG))
    wished.wish.at_once = True
    result = wished.run(SETTING, 1.0)
    assert (result.outcome, result.facts["note"][:13]) == (Outcome.VOID, "ended by hand")


def test_a_command_that_is_not_there(tmp_path: Path) -> None:
    """Named with its key; nothing is recorded."""
    with pytest.raises(InputError, match=r"apply = \['\./none'\]: cannot be started"):
        run(tmp_path, apply=["./none"])


def test_restore_tells_what_went_wrong(tmp_path: Path) -> None:
    """Its exit code, or that it hung."""
    failing = bench(tmp_path, restore=python("raise SystemExit(4)"))
    assert failing.restore(SETTING) == "restore failed: exit code 4"


def test_the_command_is_told_which_workload_it_is(tmp_path: Path) -> None:
    """As a variable and as an argument; a screen that is not scored is asked for no score."""
    told = (
        "import os, sys; print('total: 7'); sys.exit(sys.argv[1] != os.environ['PLANNER_WORKLOAD'])"
    )
    tables = driven(workload=[*python(told), "{workload}"], score="total: ([0-9.]+)")
    tables["workload"].append({"name": "quick check", "minutes": 0.5})
    definition = parse_text(definition_text(tables))
    (scratch := tmp_path / "scratch").mkdir()
    made = Bench(definition, drive_of(definition), tmp_path, scratch)
    whole, screen = made.run(SETTING, 1.0), made.run(SETTING, 0.5, "quick check")
    assert (whole.outcome, screen.outcome) == (Outcome.PASS, Outcome.PASS)
    assert whole.facts["score"] == 7
    assert "score" not in screen.facts
