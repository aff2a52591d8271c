"""An evening at the page in a real browser: recorded, seen by others, mended."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tests.page.browser.taps import at_run, fill, tap, told

if TYPE_CHECKING:
    from playwright.sync_api import Page

    from tests.page.browser.bench import Bench

OUTCOMES = {
    "pass": {"score": "2417", "reading:hotspot": "81C"},
    "crash": {"failed_after": "85s", "symptom": "blank screen", "note": "fan <b>was</b> off"},
    "errors": {"errors": "3"},
    "no-start": {},
    "wrong-result": {},
    "power-off": {},
    "stopped": {"held": "4"},
    "void": {"note": "the door bell"},
}


def test_a_whole_evening_through_the_page(page: Page, bench: Bench) -> None:
    """Every outcome with what belongs to it; the study holds them all, and the page says so."""
    for run, (outcome, fields) in enumerate(OUTCOMES.items(), 1):
        at_run(page, run)
        fill(page, **fields)
        tap(page, outcome)
        told(page, f"Run {run} recorded: {outcome}")
    runs = bench.study().history.runs
    assert [str(run.outcome) for run in runs] == list(OUTCOMES)
    assert (runs[0].score, runs[0].readings) == (2417, {"hotspot": 81})
    assert (runs[1].failed_after_s, runs[1].note) == (85, "fan <b>was</b> off")
    told(page, "fan <b>was</b> off")
    told(page, "What run 6 is blamed on")
    page.locator(".pictures img").first.wait_for()
    bench.type("close", "--reason", "enough for tonight")
    told(page, "The study is closed. If this run was made, tell how it ended")
    at_run(page, 9)
    tap(page, "void")
    told(page, "no run is left to make")
    told(page, "enough for tonight. To go on all the same: planner reopen")


def test_two_pages_and_a_command_line_at_once(page: Page, bench: Bench) -> None:
    """Each records in turn, and every page shows what the others recorded by itself."""
    other = page.context.new_page()
    other.clock.install()
    other.goto(bench.link)
    at_run(page, 1)
    tap(page, "pass")
    told(other, "Run 1 recorded: pass")
    at_run(other, 2)
    tap(other, "pass")
    told(page, "Run 2 recorded: pass")
    bench.type("record", "crash", "--failed-after", "85s")
    for each in (page, other):
        told(each, "Run 3 recorded: crash after 85 s")
    assert [run.number for run in bench.study().history.runs] == [1, 2, 3]


def test_two_pages_that_answer_one_run(page: Page, bench: Bench) -> None:
    """What is typed stays until its person has seen that the run was answered elsewhere."""
    at_run(page, 1)
    fill(page, note="it hung at the end")
    bench.type("record", "pass")
    told(page, "Another run stands here now")
    told(page, "Run 1 recorded: pass")  # and the rest is up to date
    assert page.locator('[name="note"]').input_value() == "it hung at the end"
    page.get_by_role("link", name="Show it").click()
    at_run(page, 2)
    assert page.locator('[name="note"]').input_value() == ""
    assert len(bench.study().history.runs) == 1


def test_a_double_tap_is_one_run(page: Page, bench: Bench) -> None:
    """Two quick taps on the same button answer one run."""
    at_run(page, 1)
    page.get_by_role("button", name="crash", exact=True).dblclick()
    told(page, "Run 1 recorded: crash")
    at_run(page, 2)
    assert [run.number for run in bench.study().history.runs] == [1]


def test_undo(page: Page, bench: Bench) -> None:
    """The last answer told anew; the run that was asked for on it is taken back."""
    at_run(page, 1)
    fill(page, note="warm room")
    tap(page, "pass")
    told(page, "Run 1 recorded: pass")
    page.get_by_role("link", name="Undo or mend it").click()
    page.get_by_role("heading", name="Mend run 1").wait_for()
    assert page.locator('[name="note"]').input_value() == "warm room"
    tap(page, "crash")
    told(page, "Run 1 amended: crash")
    at_run(page, 3)  # run 2 is withdrawn
    (run,) = bench.study().history.runs
    assert (str(run.outcome), run.note, run.amended) == ("crash", "warm room", 1)


def test_an_own_run(page: Page, bench: Bench) -> None:
    """Knobs stand as the machine holds them; what was set otherwise is typed over."""
    page.get_by_role("link", name="Record a run of your own").click()
    assert page.locator('[name="knob:clock"]').input_value() == "4200"
    fill(page, **{"knob:clock": "4.55GHz", "score": "2500"})
    tap(page, "pass")
    told(page, "recorded: your own run, pass; clock 4550 MHz")
    (run,) = bench.study().history.runs
    assert (run.settings["clock"], run.settings["volts"], run.score) == (4550, 1.2, 2500)
