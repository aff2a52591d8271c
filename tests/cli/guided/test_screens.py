"""Whole sessions as kept text, on a narrow, a usual and a wide screen.

PLANNER_WRITE_GOLDEN=1 writes the files anew; read the difference before keeping it.
"""

import os
from pathlib import Path

import pytest

from tests.cli.guided.held import Quick, Typed, held
from tests.cli.guided.scripted import study

GOLDEN = Path(__file__).parent / "golden"
WIDTHS = (45, 80, 200)
SLIPS: list[Typed] = [
    *(Quick("p 1000"), "y", "foo", "c 85", "p 241,7", "p clock=4500"),
    *("p 99999", "n", "p hotspot=97"),
]
SESSIONS: dict[str, tuple[float | None, list[Typed]]] = {  # minutes available, what is typed
    "evening": (
        50,
        ["own p 980 hotspot=70", "p 1021.5 hotspot=81", "c after 85s hang note loud", "n", ""],
    ),
    "slips": (None, [*SLIPS, "u", "c 40s", "u", "u", "", "skip", "note warm room", ""]),
    "asked": (None, ["?", "show", "plot", "q"]),
}


def drawn(name: str) -> str:
    """The session at each width, under a ruler as wide."""
    minutes, lines = SESSIONS[name]
    text = ""
    for width in WIDTHS:
        session = held(study(minutes), *lines, width=width)
        text += f"{'=' * width}\n{_steady(session.said)}\nexit code {session.code}\n"
    return text


def _steady(said: str) -> str:
    """Without the ledger's head, which depends on the clock."""
    return "\n".join(
        f"{line.partition('head ')[0]}head" if line.startswith("Ledger") else line.rstrip()
        for line in said.split("\n")
    )


@pytest.mark.parametrize("name", SESSIONS)
def test_a_session_is_as_kept(name: str) -> None:
    """Character by character."""
    file = GOLDEN / f"{name}.txt"
    if os.environ.get("PLANNER_WRITE_GOLDEN"):
        file.write_text(drawn(name), encoding="utf-8", newline="\n")
    assert drawn(name) == file.read_text(encoding="utf-8")


def test_no_kept_session_is_without_use() -> None:
    """Each file is of a session that there is."""
    assert {file.stem for file in GOLDEN.glob("*.txt")} == set(SESSIONS)


@pytest.mark.parametrize("width", [40, 45, 80, 132, 200])
@pytest.mark.parametrize("name", SESSIONS)
def test_no_line_is_wider_than_the_screen(name: str, width: int) -> None:
    """What is typed aside, and commands that must not be broken."""
    minutes, lines = SESSIONS[name]
    said = held(study(minutes), *lines, width=width).said.split("\n")
    too_wide = [line for line in said if len(line) > width]
    assert [line for line in too_wide if "> " not in line and "planner " not in line] == []


@pytest.mark.parametrize("name", SESSIONS)
def test_a_session_is_plain_text(name: str) -> None:
    """No control characters, and of its own words only ASCII."""
    minutes, lines = SESSIONS[name]
    said = held(study(minutes), *lines).said
    assert said.isascii()
    assert all(line.isprintable() for line in said.split("\n"))
