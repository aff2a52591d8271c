"""`planner drive` and `planner agree` as they are typed."""

import os
import re
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from planner.store import definition_text
from tests.cli.typed import ledger, planner, told
from tests.drive.makers import RIG, beating, done, driven_tables, job

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(autouse=True)
def _state(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PLANNER_STATE", str(tmp_path / "state"))


def box(given: dict | None = None) -> Path:
    """A study beside its machine, its definition on record."""
    folder = Path("studies", "box")
    folder.mkdir(parents=True, exist_ok=True)
    text = definition_text(given or driven_tables())
    (folder / "study.toml").write_text(text, encoding="utf-8")
    shutil.copyfile(RIG, folder / "rig.py")
    (folder / "rig.json").write_text('{"clock": 4200, "stock": 4200, "edge": 4500, "failing": ""}')
    told("check")
    return folder


def code_of(text: str) -> str:
    """The code that stands in what `agree` said."""
    return re.search(r"--code (\w+)", text)[1]


def agreed() -> None:
    """Agree as a script would."""
    told("agree", "--code", code_of(planner("agree").stderr))


def test_nothing_runs_before_it_was_agreed_to() -> None:
    """Every command is shown, exit code 4, nothing is run or written."""
    folder = box()
    before = ledger(folder)
    refused = planner("drive")
    assert (refused.exit_code, done(folder), ledger(folder)) == (4, [], before)
    for words in ("apply", "restore", "workload load", "rig.py", "at most 60 s"):
        assert words in refused.stderr
    assert "Nothing is run" in refused.stderr


def test_a_code_is_bound_to_the_text() -> None:
    """Another one agrees to nothing."""
    box()
    refused = planner("agree", "--code", "00000000")
    assert (refused.exit_code, "is of something else" in refused.stderr) == (4, True)
    assert planner("agree").exit_code == 4
    agreed()
    assert "You have agreed" in planner("agree").stderr


@pytest.mark.parametrize("what", ["command", "script", "folder", "shell"])
def test_any_change_asks_anew(what: str) -> None:
    """Another argument, another byte of a script, another folder."""
    folder = box()
    agreed()
    assert planner("drive", "--runs", "1").exit_code == 0
    before = done(folder)
    if what == "script":
        (folder / "rig.py").write_text(RIG.read_text() + "\n# changed\n")
    elif what == "folder":
        folder = folder.rename(Path("studies", "other"))
    elif what == "shell":
        box(driven_tables({"restore": {"shell": "true"}}))
    else:
        box(driven_tables({"restore": [*job("restore"), "more"]}))
    assert planner("drive", "--runs", "1").exit_code == 4
    assert done(folder) == before


def test_on_a_terminal_it_asks(monkeypatch: pytest.MonkeyPatch) -> None:
    """Only the whole word agrees."""
    box()
    monkeypatch.setattr("planner.cli.agree.interactive", lambda: True)
    assert planner("agree", typed="y\n").exit_code == 4
    assert planner("agree", typed="yes\n").exit_code == 0
    assert planner("drive", "--runs", "1").exit_code == 0


def test_an_agreement_cannot_lie_in_the_study(monkeypatch: pytest.MonkeyPatch) -> None:
    """A stranger's folder could bring it along."""
    folder = box()
    monkeypatch.setenv("PLANNER_STATE", str(folder / "state"))
    refused = planner("agree")
    assert (refused.exit_code, "cannot lie inside the study" in refused.stderr) == (6, True)


def test_a_dry_run_shows_every_command_and_runs_none() -> None:
    """With the values filled in; before anything was agreed to."""
    given = driven_tables(
        beating(probe={"command": job("probe")}), {"command": [*job("load"), "{clock}"]}
    )
    folder = box(given)
    before = ledger(folder)
    shown = told("drive", "--dry-run").stdout
    for words in ("apply", "load 4200", "restore", "heartbeat", "reset", "probe: before each run"):
        assert words in shown
    assert (done(folder), ledger(folder)) == ([], before)
    assert not (folder / "drive").exists()


def test_a_drive_is_seen_run_by_run() -> None:
    """A line when it begins and one when it has ended; why it ended; exit code 3."""
    box()
    agreed()
    driven = planner("drive")
    assert driven.exit_code == 3
    assert re.search(r"Run 2: clock \d+ MHz; load", driven.stdout)
    assert "Run 1: pass." in driven.stdout
    assert "The drive is done: nothing is left to ask for." in driven.stdout
    assert "edge known well enough" in " ".join(driven.stdout.split())
    assert "\x1b" not in driven.stdout


@pytest.mark.parametrize(
    ("arguments", "words", "code"),
    [
        (["--runs", "0"], "expected a whole number from 1", 2),
        (["--runs", "x"], "expected a whole number from 1", 2),
        (["--attended"], "needs a terminal", 4),
        (["--resume"], "nothing to resume", 0),
    ],
)
def test_refusals(arguments: list[str], words: str, code: int) -> None:
    """In a sentence."""
    box()
    agreed()
    refused = planner("drive", *arguments)
    assert (refused.exit_code, words in refused.stderr) == (code, True)


def test_tables_that_are_missing_are_named() -> None:
    """[drive], and the launch of the workload."""
    given = driven_tables()
    del given["workload"][0]["launch"]
    box(given)
    assert "[workload.launch]" in planner("drive").stderr
    del given["drive"]
    box(given)
    refused = planner("drive")
    assert (refused.exit_code, "has no [drive] table" in refused.stderr) == (2, True)
    assert planner("agree").exit_code == 2


def test_a_firmware_knob_is_not_turned_unattended() -> None:
    """It says what to write, or to stay."""
    given = driven_tables()
    given["knob"][0]["where"] = "firmware"
    folder = box(given)
    agreed()
    refused = planner("drive")
    assert (refused.exit_code, done(folder)) == (2, [])
    assert 'where = "live"' in refused.stderr


def test_its_folder_is_no_way_out_of_the_study(tmp_path: Path) -> None:
    """A link in its place is refused, and so is a result file that leads out."""
    folder = box()
    agreed()
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (folder / "drive").symlink_to(elsewhere)
    assert planner("drive").exit_code == 2
    assert list(elsewhere.iterdir()) == []
    (folder / "drive").unlink()
    box(driven_tables(launch={"result_file": "out.json"}))
    agreed()
    (folder / "out.json").symlink_to(elsewhere / "x.json")
    (elsewhere / "x.json").write_text("keep")
    refused = planner("drive")
    assert (refused.exit_code, "leads out of the study" in refused.stderr) == (2, True)
    assert (elsewhere / "x.json").read_text() == "keep"


@pytest.mark.parametrize("name", ["ledger.jsonl", "study.toml", "drive/lock", "./Study.toml", "."])
def test_a_result_file_is_none_of_the_planner_s_own(name: str) -> None:
    """It would be deleted before the run."""
    folder = box(driven_tables(launch={"result_file": name}))
    agreed()
    before = ledger(folder)
    refused = planner("drive")
    assert (refused.exit_code, "planner's own" in refused.stderr) == (2, True)
    assert ledger(folder) == before


def test_two_drives_of_one_study_do_not_go_on_at_once() -> None:
    """The second is told, exit code 5."""
    from filelock import FileLock

    folder = box()
    agreed()
    (folder / "drive").mkdir()
    with FileLock(folder / "drive" / "lock"):
        refused = planner("drive")
    assert (refused.exit_code, "another drive" in refused.stderr) == (5, True)


@pytest.mark.parametrize(("presses", "code", "outcome"), [(1, 0, "wrong-result"), (2, 130, "void")])
def test_real_ctrl_c(presses: int, code: int, outcome: str, tmp_path: Path) -> None:
    """SIGINT to the planner alone, as the terminal's group: once after the run, twice at once."""
    folder = box(driven_tables(launch={"limit": 60}))
    agreed()
    rig = '{"clock": 4200, "stock": 4200, "edge": 4200, "failing": "exits", "length": 0.8}'
    environment = os.environ | {"PYTHONPATH": str(ROOT)}
    told("record", "pass", "--as-is")
    (folder / "rig.json").write_text(rig)
    drive = subprocess.Popen(
        [sys.executable, "-m", "planner", "drive"],
        env=environment,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        start_new_session=True,
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.default_int_handler),
    )
    while not any(line.startswith("load") for line in done(folder)):
        assert drive.poll() is None
        time.sleep(0.01)
    for _ in range(presses):
        os.killpg(drive.pid, signal.SIGINT)
        time.sleep(0.05)
    said, _ = drive.communicate(timeout=30)
    assert drive.returncode == code, said
    assert f"Run 2: {outcome}" in said
    assert done(folder)[-1] == "restore"
    assert not (folder / "drive" / "under-way.json").exists()
