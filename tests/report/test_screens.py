"""Every screen as kept text, and the laws that all of them keep.

PLANNER_WRITE_GOLDEN=1 writes the files anew; read the difference before keeping it.
"""

import os
from pathlib import Path

import pytest

from tests.report.screens import SCREENS

GOLDEN = Path(__file__).parent / "golden"
WIDTHS = (45, 80, 200)


def drawn(name: str) -> str:
    """The screen at each width, under a ruler as wide."""
    return "".join(f"{'=' * width}\n{SCREENS[name](width)}\n" for width in WIDTHS)


@pytest.mark.parametrize("name", SCREENS)
def test_a_screen_is_as_kept(name: str) -> None:
    """Character by character."""
    file = GOLDEN / f"{name}.txt"
    if os.environ.get("PLANNER_WRITE_GOLDEN"):
        file.write_text(drawn(name), encoding="utf-8", newline="\n")
    assert drawn(name) == file.read_text(encoding="utf-8")


def test_no_kept_screen_is_without_use() -> None:
    """Each file is of a screen that there is."""
    assert {file.stem for file in GOLDEN.glob("*.txt")} == set(SCREENS)


@pytest.mark.parametrize("width", [40, 45, 60, 80, 132, 200])
@pytest.mark.parametrize("name", SCREENS)
def test_no_line_is_wider_than_the_screen(name: str, width: int) -> None:
    """Only a command or a path that must not be broken may stick out."""
    too_wide = [line for line in SCREENS[name](width).split("\n") if len(line) > width]
    assert [line for line in too_wide if "planner " not in line] == []


@pytest.mark.parametrize("name", SCREENS)
def test_a_screen_is_plain_text(name: str) -> None:
    """No control characters, no blanks at line ends, and of its own words only ASCII."""
    text = SCREENS[name](80)
    assert all(line == line.rstrip() and line.isprintable() for line in text.split("\n"))
    assert text.replace("\N{DEGREE SIGN}", "").isascii()
