"""A second window while `planner drive` is at work: nothing that was run is lost."""

import sys
from pathlib import Path

from planner.study import Study
from tests.cli.drives import KNOB, text
from tests.cli.typed import made, planner, told

ROOT = Path(__file__).parents[2]


def typing(*typed: str, first: str = "") -> str:
    """A workload in which somebody types such a command in a second window, and that passes."""
    return (
        f"import os, subprocess, sys; {first}\n"
        f"os.environ['PYTHONPATH'] = {str(ROOT)!r}\n"
        f"done = subprocess.run([{sys.executable!r}, '-m', 'planner', *{typed!r}], text=True,"
        " stdout=subprocess.PIPE, stderr=subprocess.STDOUT)\n"
        "open('seen', 'w').write(done.stdout)\n"
        "raise SystemExit(done.returncode)"
    )


def driven(workload: str) -> Path:
    """A study that is driven for one run, in which that happens."""
    return made(text=text(workload=workload, knob=KNOB.replace("0.001", "0.5")))


def test_next_says_who_runs_it() -> None:
    """A person is not to set the values by hand; afterwards nothing is said any more."""
    folder = driven(typing("next", "-s", "."))
    told("drive", "--agree", "--runs", "1")
    seen = (folder / "seen").read_text(encoding="utf-8")
    assert "planner drive is running this one now, and records run 1 itself" in seen
    assert "planner drive" not in told("next").stderr


def test_an_answer_from_elsewhere_stands() -> None:
    """What drive saw is said and noted, and the drive goes on."""
    folder = driven(typing("record", "crash", "-s", "."))
    drive = planner("drive", "--agree", "--runs", "1")
    assert drive.exit_code == 0, drive.output
    assert "answered elsewhere as crash, and that stands; drive saw pass" in drive.stderr
    (run,) = Study.open(folder).history.runs
    assert (str(run.outcome), (run.note or "").startswith("drive saw pass")) == ("crash", True)


def test_a_run_that_was_withdrawn_is_kept_as_ones_own() -> None:
    """Its setting was run, though an edited study forbids it by now."""
    narrower = "t = open('study.toml').read().replace('high = 5000', 'high = 4250')"
    folder = driven(
        typing("next", "-s", ".", first=f"{narrower}; open('study.toml', 'w').write(t)")
    )
    drive = planner("drive", "--agree", "--runs", "1")
    assert drive.exit_code == 0, drive.output
    assert "Run 1 was withdrawn while it ran" in drive.stderr
    (run,) = Study.open(folder).history.runs
    assert (str(run.outcome), float(run.settings["clock"]) > 4250) == ("pass", True)
