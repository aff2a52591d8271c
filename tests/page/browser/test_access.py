"""For those who see little, use no mouse, or have a narrow phone: WCAG 2.2 AA, by axe-core."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.page.browser.axe import PHONE, WIDE, violations
from tests.page.browser.conftest import opened
from tests.page.browser.taps import at_run, tap, told

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

    from tests.page.browser.bench import Bench

WIDER = "all => all.filter(i => i.getBoundingClientRect().right > innerWidth).length"


@pytest.fixture
def two_runs(bench: Bench) -> Bench:
    """A bench with something to show: a pass, a crash with a note, blame, pictures."""
    study = bench.study()
    study.record("pass", settings={"clock": 4400}, score=2400)
    study.record("crash", settings={"clock": 4800}, failed_after_s=85, note="fan was off")
    return bench


def test_axe_finds_nothing(chromium: Browser, two_runs: Bench) -> None:
    """On every page, pictures and notices included, in light and dark, on a phone and wide."""
    page = opened(chromium, two_runs.link, [], viewport=PHONE)
    page.locator(".pictures img").first.wait_for()
    told(page, "is blamed on")
    page.locator(".notice").evaluate_all("all => all.forEach(each => each.hidden = false)")
    for path in ("", "pictures", "own", "mend/2"):
        if path:
            page.goto(two_runs.link + path)
        for scheme, size in (("light", PHONE), ("dark", PHONE), ("dark", WIDE), ("light", WIDE)):
            page.emulate_media(color_scheme=scheme)
            page.set_viewport_size(size)
            assert violations(page) == [], (path, scheme, size)
    page.context.close()


def test_axe_finds_what_is_wrong(page: Page, bench: Bench) -> None:
    """A field without its label and pale words are found: nothing found means something."""
    page.locator("label").first.evaluate("label => label.replaceWith(...label.children)")
    page.locator("h1").evaluate("head => { head.style.color = '#bbb'; }")
    assert {"label", "color-contrast"} <= {rule for rule, _ in violations(page)}


def test_a_refusal_is_accessible_too(chromium: Browser, two_runs: Bench) -> None:
    """And keeps what was typed; the browser's own note of status 422 is all that is printed."""
    said: list[str] = []
    page = opened(chromium, two_runs.link, said, viewport=PHONE)
    at_run(page, 3)
    page.locator('[name="note"]').fill("three of them")
    tap(page, "errors")
    told(page, "Not recorded: outcome errors: expected their count")
    assert page.locator('[name="note"]').input_value() == "three of them"
    assert violations(page) == []
    assert all("422" in line for line in said)
    page.context.close()


def test_news_takes_no_refused_answer_away(chromium: Browser, two_runs: Bench) -> None:
    """Whatever is new, what was refused stands there with what was typed until it is mended."""
    page = opened(chromium, two_runs.link, [], viewport=PHONE)
    at_run(page, 3)
    page.locator('[name="note"]').fill("three of them")
    tap(page, "errors")
    told(page, "Not recorded: outcome errors: expected their count")
    page.evaluate("refresh()")
    told(page, "Not recorded: outcome errors: expected their count")
    assert page.locator('[name="note"]').input_value() == "three of them"
    page.context.close()


def test_the_phone_is_never_moved_sideways(two_runs: Bench, page: Page) -> None:
    """360 pixels hold the page, and 320 as WCAG 2.2, 1.4.10, asks; pictures and tables fit."""
    told(page, "is blamed on")
    page.locator(".pictures img").first.wait_for()
    for width in (360, 320):
        page.set_viewport_size({"width": width, "height": 740})
        assert page.evaluate("document.documentElement.scrollWidth") == width
        assert page.locator(".pictures img, .wide table").evaluate_all(WIDER) == 0
    heights = page.locator(".large button").evaluate_all("all => all.map(b => b.clientHeight)")
    assert min(heights) >= 44  # 2.5.8 asks for 24; thumbs are larger


def test_all_by_keyboard(page: Page, bench: Bench) -> None:
    """Tab reaches every field and button in order, space presses, Enter alone records nothing."""
    at_run(page, 1)
    reached = []
    for _ in range(60):
        page.keyboard.press("Tab")
        at = page.evaluate("document.activeElement.name + ':' + document.activeElement.value")
        reached.append(at)
        if at.startswith("note"):
            break
    assert [at for at in reached if at.startswith("outcome")][:3] == [
        f"outcome:{outcome}" for outcome in ("pass", "crash", "void")
    ]
    assert "outcome:" not in reached  # the one that catches the Enter key
    page.keyboard.type("typed without a mouse")
    outline = page.evaluate("getComputedStyle(document.activeElement).outlineWidth")
    assert outline == "3px"
    while not page.evaluate("document.activeElement.value == 'crash'"):
        page.keyboard.press("Shift+Tab")
    page.keyboard.press("Space")
    told(page, "Run 1 recorded: crash")
    at_run(page, 2)
    assert page.evaluate("document.activeElement.id") == "run"
    assert [run.note for run in bench.study().history.runs] == ["typed without a mouse"]


def test_the_enter_key_alone_records_nothing(chromium: Browser, bench: Bench) -> None:
    """It is pressed after every field; what was typed stays."""
    page = opened(chromium, bench.link, [], viewport=PHONE)
    at_run(page, 1)
    page.locator('[name="score"]').fill("2417")
    page.keyboard.press("Enter")
    told(page, "the Enter key records nothing")
    assert page.locator('[name="score"]').input_value() == "2417"
    assert bench.study().history.runs == ()
    page.context.close()


def test_text_can_be_selected(two_runs: Bench, page: Page) -> None:
    """All of it, what is under the pictures included."""
    page.locator(".pictures img").first.wait_for()
    barred = page.locator("body *").evaluate_all(
        "all => all.filter(e => getComputedStyle(e).userSelect == 'none').map(e => e.tagName)"
    )
    assert barred == []
    page.keyboard.press("Control+A")
    selected = page.evaluate("getSelection().toString()")
    for words in ("Run 3", "to pass", "Keep clock", "In words", "fan was off"):
        assert words in selected


def test_without_scripts(chromium: Browser, bench: Bench) -> None:
    """The forms go their own way, and the pictures are a page of their own."""
    context = chromium.new_context(java_script_enabled=False, viewport=PHONE)
    page = context.new_page()
    page.goto(bench.link)
    tap(page, "pass")
    told(page, "Run 1 recorded: pass")
    page.get_by_role("link", name="Show the pictures").click()
    assert page.locator("figure img").count() >= 2
    context.close()
