"""docs/run-table.md says what is so."""

import re
from pathlib import Path

from planner import Study
from planner.importing.columns import NOT_TAKEN
from planner.run_table import FIXED, Part
from tests.domain.makers import clock, tables, volts
from tests.importing.makers import take

DOCUMENT = (Path(__file__).parents[2] / "docs" / "run-table.md").read_text(encoding="utf-8")


def test_every_column_is_documented() -> None:
    """In the order in which they stand."""
    listed = DOCUMENT[DOCUMENT.index("| column |") : DOCUMENT.index("## JSON")]
    first = [cell for row in listed.splitlines()[2:] for cell in row.split("|")[1:2]]
    names = re.findall(r"`([^`]+)`", " ".join(first))
    assert tuple(names[: len(FIXED)]) == FIXED
    assert [name.split(" ")[0] for name in names[len(FIXED) :]] == list(Part)


def test_what_is_not_taken_over_is_documented() -> None:
    """By name."""
    line = next(line for line in DOCUMENT.splitlines() if line.startswith("- **Not taken over**"))
    assert set(re.findall(r"`([^`]+)`", line)) == {*NOT_TAKEN, "derived NAME"}


def test_the_notebook_there_is_taken() -> None:
    """With its semicolons, decimal commas and units."""
    text = re.search(r"```\n(outcome;.*?)```", DOCUMENT, re.DOTALL)
    assert text is not None
    knobs = [clock(name="core_clock"), volts("core_voltage")]
    study = Study.create(tables(*knobs, reading=[{"name": "hotspot", "unit": "C"}]))
    take(study, text[1])
    first, second = study.history.runs
    assert first.ran == {"core_clock": 4800.0, "core_voltage": 1.2}
    assert (first.readings, first.note) == ({"hotspot": 71.5}, "stock")
    assert (second.ran["core_clock"], second.failed_after_s) == (4950.0, 85.0)
