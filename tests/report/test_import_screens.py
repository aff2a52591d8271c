"""What an import says, as kept text, and the laws that all screens keep.

PLANNER_WRITE_GOLDEN=1 writes the files anew; read the difference before keeping it.
"""

import os
from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from planner import Study
from planner.importing.plan import plan_import
from planner.importing.recording import record_planned
from planner.report.text.imported import dry_run_text, imported_text
from tests.report.values import study

GOLDEN = Path(__file__).parent / "tables" / "golden"
WIDTHS = (45, 80, 200)
ROWS = """\
outcome,core_clock [GHz],core_voltage,hotspot,score,changes_told,note
pass,5.0,1.2,71,12345.7,0,stock
pass,5.2,1.2,78,12801,1,
crash,5.3,,,,1,blank screen
pass,5.275,1.27,88,12950,1,
pass,5.3375,1.36,97,,1,too hot
void,5.3,,,,1,the lamp on the bench circuit tripped it
"""
NAMED = "outcome,core_clock,run,bench,time\npass,5100,4,left,2026-01-02T20:30:00Z\n"
NOTEBOOK = "an evening in may.csv"


def _recorded(told: Study, text: str) -> Callable[[int], str]:
    plan = plan_import(told.history, text.encode(), NOTEBOOK)
    numbers = [run.number for run in record_planned(told, plan)]
    history = told.history
    return lambda width: imported_text(plan, numbers, history, width)


def _dry(told: Study, text: str) -> Callable[[int], str]:
    history = told.history
    plan = plan_import(history, text.encode(), NOTEBOOK)
    return lambda width: dry_run_text(plan, history.definition, width)


def _screens() -> Mapping[str, Callable[[int], str]]:
    told = study()
    screens = {"import-dry": _dry(told, ROWS), "import": _recorded(told, ROWS)}
    grown = ROWS + "pass,5.1,1.2,75,12500,1,\n" * 23
    screens |= {"import-dry-known": _dry(told, grown), "import-known": _recorded(told, ROWS)}
    screens["import-one"] = _recorded(told, NAMED)
    screens["import-differs"] = _recorded(told, NAMED.replace("pass", "crash"))
    return screens


SCREENS = _screens()


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
    """And no line has blanks at its end or characters that steer a terminal."""
    lines = SCREENS[name](width).split("\n")
    assert [line for line in lines if len(line) > width] == []
    assert all(line == line.rstrip() and line.isprintable() for line in lines)


def test_own_risk_is_marked_wherever_it_appears() -> None:
    """In the table, among the remarks, and where the machine is left."""
    dry, done = SCREENS["import-dry"](200), SCREENS["import"](200)
    marked = [line for line in dry.split("\n") if "1.27 V" in line or "1.36 V" in line]
    assert len(marked) == 2
    assert all("AT YOUR OWN RISK" in line for line in marked)
    assert "\nAT YOUR OWN RISK: above the everyday ceiling of core_voltage: runs 4, 5" in done
    assert "\nPAST THE HARD STOP of core_voltage: run 5" in done
