"""The README's commands: they stand there, and continuous integration runs the very same."""

import re
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
DEMO = "python3 -m venv .venv && .venv/bin/pip install -q . && .venv/bin/planner demo"


def readme_commands() -> list[str]:
    """Every line of the README's fenced blocks."""
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    blocks = re.findall(r"^```\w*\n(.*?)^```", readme, flags=re.MULTILINE | re.DOTALL)
    return [line.strip() for block in blocks for line in block.splitlines()]


def test_readme_shows_the_demo() -> None:
    """The README has the one line that goes from a fresh checkout to the demo."""
    assert DEMO in readme_commands()


def test_ci_runs_the_readme_test_command() -> None:
    """The README's one test command is the last line of .ci/run, word for word."""
    tests = [line for line in readme_commands() if ".venv/bin/pytest " in line]
    last = (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()[-1]
    assert tests == [last]
