"""How the values reach the person's commands: environment, file, arguments."""

import json
from pathlib import Path

import pytest

from tests.driving.benches import SETTING, python, run


def test_the_setting_is_handed_over(tmp_path: Path) -> None:
    """In the environment, without a unit, and as a JSON file."""
    code = (
        "import os; e = os.environ; f = open('seen', 'w');"
        "f.write(e['PLANNER_CLOCK'] + open(e['PLANNER_SETTINGS']).read())"
    )
    run(tmp_path, apply=python(code))
    seen = (tmp_path / "seen").read_text(encoding="ascii")
    assert seen.startswith("4300{")
    assert json.loads(seen[4:]) == SETTING


@pytest.mark.parametrize(
    ("argument", "seen"),
    [
        ("{clock}", "4300"),
        ("--clock={clock}", "--clock=4300"),
        ("core:{clock}", "core:4300"),
        ("{voltage}", "{voltage}"),  # no knob of the study
        ("${clock}", "${clock}"),  # what a shell would make of it is its own affair
        ("x {clock}", "x {clock}"),
        ("{clock}{clock}", "{clock}{clock}"),
        ("{}", "{}"),
    ],
)
def test_the_setting_stands_in_for_arguments(tmp_path: Path, argument: str, seen: str) -> None:
    """Where an argument is, or plainly ends in, a knob's name in braces."""
    code = "import sys; open('seen', 'w').write(sys.argv[1])"
    run(tmp_path, apply=[*python(code), argument])
    assert (tmp_path / "seen").read_text(encoding="ascii") == seen
