"""Whole drives of a made-up machine, by real processes."""

import json
from pathlib import Path

import pytest

from planner import Study
from planner.domain.outcome import Outcome
from planner.drive.loop import Wanted
from planner.drive.room import Room
from planner.drive.screen import End
from planner.drive.under_way import Trail
from planner.gate import gate_of
from tests.drive.makers import beating, done, driven, driven_tables, job, machine_of, rigged


def outcomes(study: Study) -> list[str]:
    """Of all runs."""
    return [str(run.outcome) for run in study.history.runs]


def test_it_finds_the_edge_by_itself(tmp_path: Path) -> None:
    """It holds up to 4500: sound and within a step at the end, stock brought back, nothing left."""
    study = rigged(tmp_path / "s", driven_tables(launch={"score": r"score: (\S+)"}))
    how, why, screen = driven(study, tmp_path / "s")
    assert (how, outcomes(study)[0]) == (End.CLOSED, "pass")
    assert "edge known well enough" in why
    assert study.recommendation().settings["clock"] in (4400, 4500)
    passed = [r for r in study.history.runs if r.outcome.held]
    assert all(r.settings["clock"] <= 4500 and r.score == 2 * r.settings["clock"] for r in passed)
    assert len(screen.runs) == len(study.history.runs)
    assert done(tmp_path / "s")[-1] == "restore"
    assert study.history.machine == study.history.definition.stock
    assert Trail(Room.of(tmp_path / "s").under_way).read() is None


@pytest.mark.parametrize(
    ("failing", "outcome", "word"),
    [
        ("exits", "wrong-result", "exit status 3"),
        ("segv", "crash", "SIGSEGV"),
        ("hangs", "crash", "hung"),
        ("floods", "wrong-result", "exit status 1"),
        ("garbage", "wrong-result", "exit status 1"),
    ],
)
def test_every_way_to_fail_is_told_apart(
    tmp_path: Path, failing: str, outcome: str, word: str
) -> None:
    """Exit status, signal, a hang ended at its limit, eight megabytes of output, bytes no text."""
    given = driven_tables(launch={"score": r"score: (\S+)", "limit": 0.4})
    study = rigged(tmp_path / "s", given, edge=4250, failing=failing)
    driven(study, tmp_path / "s", Wanted(runs=1))
    run = study.history.runs[-1]
    assert (str(run.outcome), run.settings["clock"] > 4250) == (outcome, True)
    assert word in run.note
    kept = (tmp_path / "s" / "drive" / f"run-{run.number:05d}.txt").stat().st_size
    assert kept < 600_000


def test_a_kill_from_outside_says_nothing(tmp_path: Path) -> None:
    """As by a system out of memory: void, and after three of them in a row it ends."""
    study = rigged(tmp_path / "s", driven_tables(), edge=4250, failing="killed")
    how, why, _ = driven(study, tmp_path / "s")
    assert (how, outcomes(study)) == (End.FAILED, ["pass", "void", "void", "void"])
    assert "said nothing" in why
    assert "SIGKILL" in why


def test_a_hang_of_the_machine_is_reset(tmp_path: Path) -> None:
    """Its heartbeat stops: a crash with the time, a reset, stock values, and on."""
    given = driven_tables(beating())
    study = rigged(tmp_path / "s", given, edge=4250, failing="down")
    how, _, screen = driven(study, tmp_path / "s", Wanted(runs=2))
    assert (how, outcomes(study)) == (End.ASKED, ["pass", "crash", "crash"])
    crash = study.history.runs[1]
    assert "went silent" in crash.note
    assert 0 <= crash.failed_after_s <= crash.run_minutes * 60
    assert done(tmp_path / "s")[-3:] == ["reset", "restore", "restore"]
    assert machine_of(tmp_path / "s")["boots"] == 2
    assert sum("reset" in words for words in screen.words) == 2


def test_a_machine_that_restarts_by_itself_is_seen(tmp_path: Path) -> None:
    """The heartbeat names another boot: a crash, and nothing to reset."""
    study = rigged(tmp_path / "s", driven_tables(beating()), edge=4250, failing="restarts")
    driven(study, tmp_path / "s", Wanted(runs=1))
    assert outcomes(study) == ["pass", "crash"]
    assert "restarted" in study.history.runs[1].note
    assert "reset" not in done(tmp_path / "s")


def test_a_machine_that_stays_away_ends_it(tmp_path: Path) -> None:
    """Two resets, then a person is told; the crash is on record, stock values are not claimed."""
    given = driven_tables(beating(boot=0.1))
    study = rigged(tmp_path / "s", given, edge=4250, failing="down", dead=True)
    how, why, screen = driven(study, tmp_path / "s")
    assert (how, outcomes(study)) == (End.FAILED, ["pass", "crash"])
    assert "did not answer" in why
    assert "after two resets" in why
    assert any("STOCK VALUES ARE NOT BACK" in words for words in screen.words)
    assert done(tmp_path / "s").count("reset") == 2


def test_failures_to_start_are_capped(tmp_path: Path) -> None:
    """No heartbeat after the values were applied; the second in a row ends the drive."""
    given = driven_tables(beating(boot=0.2, no_starts=2))
    study = rigged(tmp_path / "s", given, starts=4250)
    how, why, _ = driven(study, tmp_path / "s")
    assert (how, outcomes(study)) == (End.FAILED, ["pass", "no-start", "no-start"])
    assert "did not start" in why


def test_failures_in_a_row_are_capped(tmp_path: Path) -> None:
    """A person should look before a machine crashes all night."""
    study = rigged(tmp_path / "s", driven_tables({"failures": 3}), edge=4200)
    how, why, _ = driven(study, tmp_path / "s")
    assert (how, outcomes(study)) == (End.FAILED, ["pass", *["wrong-result"] * 3])
    assert "3 runs in a row did not hold" in why


def test_a_machine_that_dies_while_values_are_applied_crashed(tmp_path: Path) -> None:
    """The apply command loses its connection and the heartbeat is gone."""
    study = rigged(tmp_path / "s", driven_tables(beating()), dies=4250)
    driven(study, tmp_path / "s", Wanted(runs=1))
    assert outcomes(study) == ["pass", "crash"]
    assert "while its values were applied" in study.history.runs[1].note


def test_an_apply_command_that_fails_ends_it_and_is_no_evidence(tmp_path: Path) -> None:
    """The run stays pending, stock is brought back."""
    study = rigged(tmp_path / "s", driven_tables(), dies=4250)
    how, why, _ = driven(study, tmp_path / "s")
    assert (how, outcomes(study)) == (End.FAILED, ["pass"])
    assert "apply: exit status 1: connection lost" in why
    assert study.pending is not None
    assert done(tmp_path / "s")[-1] == "restore"
    assert Trail(Room.of(tmp_path / "s").under_way).read() is None


def test_a_first_run_that_fails_at_stock_stops_everything(tmp_path: Path) -> None:
    """Commands or machine are wrong: nothing is searched, nothing counts."""
    study = rigged(tmp_path / "s", driven_tables(), edge=4100)
    how, why, screen = driven(study, tmp_path / "s")
    assert (how, outcomes(study)) == (End.FAILED, ["void"])
    assert "did not pass (wrong-result" in why
    assert screen.asked_for == []


@pytest.mark.parametrize("program", ["no-such-program-xyz", "./missing"])
def test_a_workload_that_is_not_there_stops_everything(tmp_path: Path, program: str) -> None:
    """It is no failure of the setting."""
    study = rigged(tmp_path / "s", driven_tables(launch={"command": [program]}))
    how, why, _ = driven(study, tmp_path / "s")
    assert (how, outcomes(study)) == (End.FAILED, [])
    assert "cannot be started" in why


def test_a_reading_past_its_stop_ends_the_run_at_once(tmp_path: Path) -> None:
    """Stopped, with the reading, so that the gate closes what is as hot; long before its limit."""
    probe = {"probe": {"command": job("probe"), "every": 0.02}}
    given = driven_tables(probe, launch={"limit": 30})
    study = rigged(tmp_path / "s", given, edge=4250, failing="hot", hot=99)
    _, _, screen = driven(study, tmp_path / "s", Wanted(runs=1))
    run, why = screen.runs[-1]
    assert (run.outcome, run.readings) == (Outcome.STOPPED, {"hotspot": 99.0})
    assert "hotspot passed its stop" in why
    assert not gate_of(study.history).permits(run.settings)
    assert done(tmp_path / "s")[-2:] == ["restore", "restore"]


def test_a_lost_probe_ends_the_run_at_once_and_then_the_drive(tmp_path: Path) -> None:
    """Garbage in place of readings: void, and nothing is begun that cannot be watched."""
    probe = {"probe": {"command": job("probe"), "every": 0.02}}
    given = driven_tables(probe, launch={"limit": 30})
    study = rigged(tmp_path / "s", given, edge=4250, failing="hot", lost=True)
    how, why, screen = driven(study, tmp_path / "s")
    assert screen.runs[1][0].outcome is Outcome.VOID
    assert "the probe was lost" in screen.runs[1][1]
    assert how is End.FAILED
    assert "in a row said nothing" in why


def test_ctrl_c_once_ends_after_the_run(tmp_path: Path) -> None:
    """The run counts, stock is brought back."""
    study = rigged(tmp_path / "s", driven_tables(), length=0.3)
    how, _, screen = driven(study, tmp_path / "s", ask_at=1)
    assert how is End.ASKED
    assert (len(screen.asked_for), study.history.runs[-1].outcome.value != "void") == (1, True)
    assert (study.pending, done(tmp_path / "s")[-1]) == (None, "restore")


def test_ctrl_c_twice_ends_the_run_void_not_lost(tmp_path: Path) -> None:
    """At once; the entry stands, and stock is brought back all the same."""
    study = rigged(tmp_path / "s", driven_tables(), length=0.2)
    how, _, screen = driven(study, tmp_path / "s", ask_at=1, times=2)
    assert how is End.AT_ONCE
    assert (screen.runs[-1][0].outcome, screen.runs[-1][1]) == (Outcome.VOID, "ended by hand")
    assert (study.pending, done(tmp_path / "s")[-1]) == (None, "restore")


def test_a_workload_without_an_end_is_ended_and_has_passed(tmp_path: Path) -> None:
    """It runs until it is stopped: that it still ran is the pass."""
    launch = {"until_stopped": True, "limit": 5}
    study = rigged(tmp_path / "s", driven_tables(launch=launch), length=9)
    driven(study, tmp_path / "s", Wanted(runs=1))
    assert outcomes(study) == ["pass", "pass"]


def test_a_workload_that_is_over_too_soon_says_nothing(tmp_path: Path) -> None:
    """As one that puts itself into the background: the first run at stock shows it."""
    given = driven_tables(launch={"least": 1.0, "limit": 600})
    given["workload"][0]["minutes"] = 5
    study = rigged(tmp_path / "t", given)
    how, why, _ = driven(study, tmp_path / "t")
    assert (how, outcomes(study)) == (End.FAILED, ["void"])
    assert "too soon" in why


def test_values_reach_the_command_three_ways(tmp_path: Path) -> None:
    """Arguments, environment, and a JSON file; a shell line only where it is asked for."""
    shell = {"shell": 'echo "$PLANNER_SET_clock" > env.txt; cat "$PLANNER_SETTINGS_FILE" > js.txt'}
    launch = {"command": [*job("load"), "{clock}", "{run}", "{seconds}", "x{workload}y"]}
    study = rigged(tmp_path / "s", driven_tables({"apply": shell}, launch))
    driven(study, tmp_path / "s", Wanted(runs=1))
    assert float((tmp_path / "s" / "env.txt").read_text()) > 4200
    told = json.loads((tmp_path / "s" / "js.txt").read_text())
    asked = study.history.runs[-1].settings
    assert told["settings"] == asked
    assert (told["units"], told["schema"]) == ({"clock": "MHz"}, 1)


def test_unattended_it_stays_under_everyday_ceilings(tmp_path: Path) -> None:
    """An accepted risk counts for nothing while nobody is there."""
    given = driven_tables()
    given["knob"][0] |= {"everyday": 4400, "own_risk": 5000}
    study = rigged(tmp_path / "s", given, edge=9999)
    study.accept_risk("clock", 5000)
    how, _, screen = driven(study, tmp_path / "s")
    assert how is End.CLOSED
    assert max(r.settings["clock"] for r in study.history.runs) == 4400
    _, _, screen = driven(study, tmp_path / "s", Wanted(unattended=False, runs=1))
    assert screen.runs[-1][0].settings["clock"] > 4400


def test_a_pending_run_that_is_not_for_a_drive_needs_a_person(tmp_path: Path) -> None:
    """It is neither run nor withdrawn."""
    given = driven_tables()
    given["knob"][0] |= {"everyday": 4300, "own_risk": 5000}
    study = rigged(tmp_path / "s", given)
    study.accept_risk("clock", 5000)
    study.record("pass", settings={"clock": 4300})
    asked = study.next()
    how, why, _ = driven(study, tmp_path / "s")
    assert how is End.PERSON
    assert f"run {asked.number} is pending and not for a drive" in why
    assert study.pending.number == asked.number


def test_other_commands_in_an_edited_file_are_not_run(tmp_path: Path) -> None:
    """What was agreed to is looked at again before each run."""
    from planner.drive.halt import Halt
    from planner.drive.loop import Loop
    from tests.drive.makers import Memory

    study = rigged(tmp_path / "s", driven_tables())
    halt = Halt()
    drive = study.history.definition.drive
    loop = Loop(
        study, drive, Room.of(tmp_path / "s"), Memory(halt), halt, Wanted(), agreed=lambda d: False
    )
    how, why = loop.run()
    assert (how, len(study.history.runs)) == (End.PERSON, 1)
    assert "agree" in why


def test_what_took_the_machine_down_is_not_asked_for_again(tmp_path: Path) -> None:
    """In a hundred crashes of one setting it is run once, until the machine is changed."""
    study = rigged(tmp_path / "s", driven_tables(beating()), edge=4250, failing="down")
    driven(study, tmp_path / "s")
    crashed = [r.settings["clock"] for r in study.history.runs if r.outcome is Outcome.CRASH]
    assert len(crashed) == len(set(crashed)) > 1


def test_an_error_in_restoring_is_told_loudly(tmp_path: Path) -> None:
    """And the runs stand."""
    study = rigged(tmp_path / "s", driven_tables({"restore": ["false"]}))
    _, _, screen = driven(study, tmp_path / "s", Wanted(runs=1))
    assert any("STOCK VALUES ARE NOT BACK" in words for words in screen.words)
    assert len(study.history.runs) == 2


def test_a_hot_machine_begins_nothing(tmp_path: Path) -> None:
    """A reading past its stop before the run."""
    probe = {"probe": {"command": job("probe"), "every": 0.02}}
    study = rigged(tmp_path / "s", driven_tables(probe), edge=4100, hot=99)
    how, why, _ = driven(study, tmp_path / "s")
    assert (how, outcomes(study)) == (End.FAILED, [])
    assert "past its stop before the run" in why


def test_no_reset_command_is_said(tmp_path: Path) -> None:
    """A hung machine without one waits for a person."""
    beat = beating(boot=0.1)
    del beat["reset"]
    study = rigged(tmp_path / "s", driven_tables(beat), edge=4250, failing="down")
    how, why, _ = driven(study, tmp_path / "s")
    assert how is End.FAILED
    assert "no reset command" in why


def test_the_reset_itself_may_fail(tmp_path: Path) -> None:
    """Then the drive ends."""
    study = rigged(
        tmp_path / "s",
        driven_tables(beating(reset=["false"], boot=0.1)),
        edge=4250,
        failing="down",
    )
    how, why, _ = driven(study, tmp_path / "s")
    assert (how, "reset: exit status 1" in why) == (End.FAILED, True)


def test_wanted_runs_are_counted(tmp_path: Path) -> None:
    """The run at stock is not one of them."""
    study = rigged(tmp_path / "s", driven_tables())
    how, why, screen = driven(study, tmp_path / "s", Wanted(runs=2))
    assert (how, why, len(screen.asked_for)) == (End.ASKED, "2 runs are done", 2)
