"""The text that stands for a picture where it cannot be seen, kept character by character.

PLANNER_WRITE_GOLDEN=1 writes the files anew; read the difference before keeping it.
"""

import os
from pathlib import Path

import pytest

from planner.report.pictures.picture import Wanted
from planner.report.pictures.table import picture_named
from planner.searching import Searching
from tests.report.pictures.frontier_studies import STUDIES as FRONTIERS
from tests.report.pictures.studies import STUDIES, history

pytestmark = pytest.mark.slow

GOLDEN = Path(__file__).parent / "golden"
KEPT = ("edge", "map", "progress")
ALONG = ("frontier", "progress")
"""Pictures of frontier studies."""


def told(picture: str) -> str:
    """Title and alternative of every study, under its name."""
    parts = []
    for name in STUDIES:
        right, up = list(history(name).definition.knobs)[:2]
        drawn = picture_named(picture).prepare(history(name), Wanted(right, up), Searching())
        parts.append(f"== {name}\n{drawn.title}\n{drawn.alternative}\n")
    return "\n".join(parts)


@pytest.mark.parametrize("picture", KEPT)
def test_words_are_as_kept(picture: str) -> None:
    """Title and paragraph."""
    file = GOLDEN / f"{picture}.txt"
    if os.environ.get("PLANNER_WRITE_GOLDEN"):
        file.write_text(told(picture), encoding="utf-8", newline="\n")
    assert told(picture) == file.read_text(encoding="utf-8")


def told_along(picture: str) -> str:
    """The same of every frontier study."""
    parts = []
    for name, made in FRONTIERS.items():
        drawn = picture_named(picture).prepare(made().history, Wanted(), Searching())
        parts.append(f"== {name}\n{drawn.title}\n{drawn.alternative}\n")
    return "\n".join(parts)


@pytest.mark.parametrize("picture", ALONG)
def test_words_of_frontiers_are_as_kept(picture: str) -> None:
    """Title and paragraph, station by station; of the progress at the station to keep."""
    file = GOLDEN / f"along-{picture}.txt"
    if os.environ.get("PLANNER_WRITE_GOLDEN"):
        file.write_text(told_along(picture), encoding="utf-8", newline="\n")
    assert told_along(picture) == file.read_text(encoding="utf-8")


@pytest.mark.parametrize("picture", KEPT)
def test_above_an_everyday_ceiling_the_words_say_so(picture: str) -> None:
    """The evening's best at 1.3 V, or its ceilings: the warning is never lost in words."""
    drawn = picture_named(picture)
    risky = drawn.prepare(history("an evening"), Wanted("core_clock", "core_voltage"), Searching())
    plain = drawn.prepare(history("choice"), Wanted("clock", "gear"), Searching())
    said = risky.title + risky.alternative
    assert "AT YOUR OWN RISK" in said or "Everyday ceiling" in said
    assert "RISK" not in plain.title + plain.alternative
