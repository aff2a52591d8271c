"""Commands in processes of their own: what they load, and consoles that lack characters."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.typed import STUDY, made, told

ROOT = Path(__file__).resolve().parents[2]
LISTING = (
    "import atexit, json, sys\n"
    "atexit.register(lambda: open('loaded', 'w').write(json.dumps(list(sys.modules))))\n"
    "from planner.cli import main\n"
    "main()\n"
)
SLOW = {"optuna", "scipy", "pandas", "matplotlib", "sqlalchemy", "tomlkit", "rich", "pydantic"}


def run(*arguments: str, code: int = 0, **environment: str) -> subprocess.CompletedProcess[bytes]:
    """`planner` in a new process, which leaves the names of what it loaded in a file."""
    ran = subprocess.run(
        [sys.executable, "-c", LISTING, *arguments],
        env={**os.environ, "PYTHONPATH": str(ROOT), **environment},
        capture_output=True,
        check=False,
    )
    assert ran.returncode == code, ran.stderr.decode("utf-8", "replace")
    return ran


def loaded() -> set[str]:
    """What the last process had loaded when it ended."""
    return set(json.loads(Path("loaded").read_text(encoding="utf-8")))


def test_the_evening_commands_load_nothing_slow() -> None:
    """next, record and show run without the libraries that take long to load."""
    made()
    typed = ("next", "record pass", "record pass --as-is", "show", "next --json", "show --json")
    for command in map(str.split, typed):
        run(*command)
        assert SLOW.intersection(loaded()) == set()
        assert "planner.study" in loaded()
        assert "planner.peak.search" not in loaded()  # a study of one knob needs no other


def test_help_loads_no_command() -> None:
    """--help knows every command's line without its module, and needs no numpy."""
    run("--help")
    inside = {name for name in loaded() if name.startswith("planner.")}
    assert "planner.study" not in inside
    assert "planner.cli.record" not in inside
    assert not {"numpy", *SLOW}.intersection(loaded())


@pytest.mark.parametrize("encoding", ["cp437", "cp1252", "utf-8"])
def test_any_console_can_print_it(encoding: str) -> None:
    """A character that the console lacks becomes another; it never ends the command."""
    made(text=STUDY.replace('name = "box"', 'name = "\u03a9 \u2603 \u70b9"'))
    printed = run("next", PYTHONIOENCODING=encoding).stdout.decode(encoding)
    assert "Run 1 of " in printed
    assert "core_clock" not in printed
    run("show", PYTHONIOENCODING=encoding)
    run("show", "nowhere\u2603", PYTHONIOENCODING=encoding, PYTHONUTF8="1", code=2)


def test_an_inherited_name_cannot_steer_the_terminal() -> None:
    """A control character in the bench's name never reaches the screen."""
    made()
    run("next", PLANNER_BENCH="evil\x9b2J")
    run("next", PLANNER_BENCH="left")
    shown = run("show").stdout.decode()
    assert "2J" in shown
    assert not any((ord(c) < 32 and c not in "\r\n") or 127 <= ord(c) < 160 for c in shown)


def test_python_m_planner_is_the_same() -> None:
    """The package can be run without the installed command."""
    ran = subprocess.run(
        [sys.executable, "-m", "planner", "--version"],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        check=True,
        text=True,
    )
    assert ran.stdout.startswith("planner ")


def test_output_that_is_no_terminal_has_no_colour() -> None:
    """Piped text is plain."""
    made()
    told("accept-risk", "volts", "--up-to", "1.3")
    assert b"\x1b" not in run("next").stdout + run("show").stdout
