"""One command in a process of its own: ended with all that it started, its output bounded."""

import os
import sys
import time
from pathlib import Path

import pytest

from planner.domain.launch import Command
from planner.drive.output import KEPT
from planner.drive.process import TOKEN, Process, end_left_over
from planner.errors import CommandFailed

PYTHON = (sys.executable, "-S", "-E", "-c")


def started(code: str, folder: Path, limit_s: float = 5, **patterns: str) -> Process:
    """A Python process at `code`."""
    command = Command((*PYTHON, code), limit_s)
    return Process(command, command.words, {**os.environ, TOKEN: "t"}, folder, patterns)


def waited(process: Process) -> int | None:
    """Its status once it has ended or is overdue; ended with all that it started."""
    while process.status() is None and not process.overdue:
        time.sleep(0.005)
    status = process.status()
    process.end(grace_s=0.1)
    return status


def is_running(pid: int) -> bool:
    """Whether there is a process of that number, not one that waits to be reaped."""
    try:
        return Path(f"/proc/{pid}/stat").read_text().split(")")[1].split()[0] != "Z"
    except OSError:
        return False


@pytest.mark.parametrize(
    ("code", "status"),
    [
        ("pass", 0),
        ("raise SystemExit(7)", 7),
        ("import os; os.abort()", -6),
        ("import os; os.kill(os.getpid(), 11)", -11),
    ],
)
def test_exit_status_and_signal(tmp_path: Path, code: str, status: int) -> None:
    """As the system tells them."""
    assert waited(started(code, tmp_path)) == status


def test_a_hang_is_ended_even_if_it_will_not_listen(tmp_path: Path) -> None:
    """It ignores the request to end, and is killed."""
    code = "import signal, time; signal.signal(15, signal.SIG_IGN); print('x', flush=True)"
    process = started(code + "; time.sleep(60)", tmp_path, limit_s=0.3)
    assert waited(process) is None
    assert (process.ended_by_us, process.status()) == (True, -9)
    assert process.output.text() == "x\n"


FORKS = """
import os, subprocess, sys, time
away = sys.argv[1] == "session"
child = subprocess.Popen([sys.executable, "-S", "-c", "import time; time.sleep(60)"],
                         start_new_session=away)
print(child.pid, flush=True)
if sys.argv[1] == "stays":
    time.sleep(60)
"""


@pytest.mark.skipif(not Path("/proc/self/environ").exists(), reason="needs /proc")
@pytest.mark.parametrize("how", ["group", "session", "stays"])
def test_children_do_not_outlive_it(tmp_path: Path, how: str) -> None:
    """In its group or in a session of their own, whether the parent has ended or not."""
    command = Command((*PYTHON, FORKS, how), 0.5)
    process = Process(command, command.words, {**os.environ, TOKEN: "t"}, tmp_path)
    waited(process)
    child = int(process.output.text())
    for _ in range(200):
        if not is_running(child):
            break
        time.sleep(0.005)
    assert not is_running(child)


@pytest.mark.skipif(not Path("/proc/self/environ").exists(), reason="needs /proc")
def test_what_an_earlier_drive_left_is_found_by_its_token(tmp_path: Path) -> None:
    """And nothing else is ended."""
    process = started("import time; time.sleep(60)", tmp_path, limit_s=60)
    assert end_left_over("") == 0
    assert end_left_over("other") == 0
    assert process.status() is None
    assert end_left_over("t.") == 1
    assert waited(process) == -9


def test_a_flood_is_kept_within_bounds(tmp_path: Path) -> None:
    """Beginning and end are kept, every line was looked at, memory is bounded."""
    code = "import os\nfor i in range(20000): os.write(1, b'n: %d ' % i + b'x' * 500 + b'\\n')"
    process = started(code, tmp_path, limit_s=30, n=r"n: (\d+)")
    assert waited(process) == 0
    text = process.output.text()
    assert process.output.size > 10_000_000
    assert len(text) < 2 * KEPT + 100
    assert text.startswith("n: 0 ")
    assert "bytes left out" in text
    assert process.output.found == {"n": "19999"}
    assert process.output.last_line().startswith("n: 19999")


def test_a_line_without_end_costs_no_memory(tmp_path: Path) -> None:
    """Nor is a match in its middle looked for."""
    code = "import os\nfor i in range(3000): os.write(1, b'y' * 4096)\nos.write(1, b'\\nz=5')"
    process = started(code, tmp_path, limit_s=30, z=r"z=(\d)")
    assert waited(process) == 0
    assert process.output.found == {"z": "5"}


def test_what_is_no_text_is_shown_all_the_same(tmp_path: Path) -> None:
    """Any bytes."""
    process = started("import os; os.write(1, bytes(range(256)))", tmp_path)
    assert waited(process) == 0
    assert len(process.output.text()) > 200


@pytest.mark.parametrize("words", [("no-such-program-xyz",), ("./nowhere",), ("a\0b",)])
def test_what_cannot_be_started_is_named(tmp_path: Path, words: tuple[str, ...]) -> None:
    """By the program's name."""
    with pytest.raises(CommandFailed, match="cannot be started"):
        Process(Command(words, 5), words, {}, tmp_path)
