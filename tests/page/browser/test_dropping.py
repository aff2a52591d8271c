"""An answer outlives the connection: it is kept, sent once, and never to another run."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest

from tests.page.browser.conftest import opened
from tests.page.browser.taps import at_run, fill, tap, told

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

    from tests.page.browser.bench import Bench

KEPT = "Your answer to run 1: crash is kept here and sent once the machine answers"


@pytest.fixture
def phone(chromium: Browser, bench: Bench) -> Iterator[Page]:
    """The page on a phone, whose browser notes every request that fails on its console."""
    page = opened(chromium, bench.link, [], viewport={"width": 360, "height": 740})
    yield page
    page.context.close()


def test_the_connection_drops(phone: Page, bench: Bench) -> None:
    """A phone out of reach: kept on it, there after a reload of the page, sent once."""
    at_run(phone, 1)
    phone.context.set_offline(True)
    fill(phone, note="out of reach")
    tap(phone, "crash")
    told(phone, KEPT)
    assert bench.study().history.runs == ()
    phone.context.set_offline(False)
    phone.reload()
    told(phone, "Run 1 recorded: crash")
    at_run(phone, 2)
    assert [run.note for run in bench.study().history.runs] == ["out of reach"]
    assert phone.get_by_text("is kept here").is_hidden()


def test_the_machine_that_plans_goes_down(phone: Page, bench: Bench) -> None:
    """It is under test itself and hangs: the page says so, keeps the answer, and goes on after."""
    at_run(phone, 1)
    fill(phone, note="it hung")
    bench.down()
    told(phone, "No answer from the machine that plans")
    tap(phone, "crash")
    told(phone, KEPT)
    upper, lower = (phone.locator(name).bounding_box() for name in ("#contact", "#kept"))
    assert upper is not None
    assert lower is not None
    assert upper["y"] + upper["height"] <= lower["y"] + 1  # neither hides the other
    tap(phone, "crash")  # impatience
    bench.up()
    phone.clock.run_for(2500)
    told(phone, "Run 1 recorded: crash")
    at_run(phone, 2)
    assert [run.note for run in bench.study().history.runs] == ["it hung"]


def test_the_answer_arrives_and_its_receipt_is_lost(phone: Page, bench: Bench) -> None:
    """The machine records and goes down before it says so: sent again, it is one run."""
    at_run(phone, 1)

    def lost(route):  # type: ignore[no-untyped-def]
        route.fetch(max_redirects=0)
        bench.down()
        route.abort()

    phone.route("**/record", lost, times=1)
    fill(phone, note="it hung")
    tap(phone, "crash")
    told(phone, KEPT)
    assert len(bench.study().history.runs) == 1
    bench.up()
    phone.clock.run_for(2500)
    at_run(phone, 2)
    assert phone.get_by_text("Not recorded").count() == 0
    assert [run.note for run in bench.study().history.runs] == ["it hung"]


def test_a_kept_answer_can_be_forgotten(phone: Page, bench: Bench) -> None:
    """The person may think better of it."""
    at_run(phone, 1)
    phone.context.set_offline(True)
    tap(phone, "crash")
    told(phone, KEPT)
    phone.get_by_role("button", name="Forget it").click()
    phone.context.set_offline(False)
    phone.reload()
    at_run(phone, 1)
    tap(phone, "pass")
    told(phone, "Run 1 recorded: pass")
    assert len(bench.study().history.runs) == 1


def test_a_ledger_that_cannot_be_read_keeps_the_answer_waiting(phone: Page, bench: Bench) -> None:
    """The page that says so says too that an answer is kept; once it can be read, it is sent."""
    at_run(phone, 1)
    phone.context.set_offline(True)
    tap(phone, "crash")
    told(phone, KEPT)
    ledger = bench.folder / "ledger.jsonl"
    whole = ledger.read_bytes()
    ledger.write_bytes(b"damaged\n" + whole)
    phone.context.set_offline(False)
    phone.reload()
    told(phone, "The study cannot be read")
    told(phone, KEPT)
    ledger.write_bytes(whole)
    phone.reload()
    phone.clock.run_for(2500)
    told(phone, "Run 1 recorded: crash")
    assert len(bench.study().history.runs) == 1
