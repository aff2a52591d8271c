"""The report, which people keep and hand on, in a real browser: WCAG 2.2 AA, by axe-core."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from planner.report.account.nouns import Account
from planner.report.account.words import report_text
from planner.rigs.demo_definition import DEFINITION
from planner.study import Study
from tests.page.browser.axe import PHONE, violations
from tests.page.browser.conftest import opened
from tests.report.accounts import account, of_study

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page


def all_ceilings() -> Account:
    """Of a study with each kind of ceiling, claim rules, and a run that did not run as set."""
    tables = tomllib.loads(DEFINITION)
    tables["claim_rules"] = {"settings": ["core_clock <= 5000"], "also": ["a witness"]}
    study = Study.create(tables)
    study.record("pass", settings={"core_clock": 5100}, score=2240, actual={"core_clock": 5085})
    study.record("crash", settings={"core_clock": 5400, "core_voltage": 106})
    return of_study(study)


@pytest.fixture(params=["peak", "everyday", "edge", "all ceilings"])
def report(request: pytest.FixtureRequest, chromium: Browser, tmp_path: Path) -> Iterator[Page]:
    """A report opened from its file; whatever stands on its console fails the test."""
    file = tmp_path / "report.html"
    told = all_ceilings() if request.param == "all ceilings" else account(request.param)
    file.write_text(report_text(told), encoding="utf-8")
    said: list[str] = []
    page = opened(chromium, file.as_uri(), said, viewport=PHONE)
    yield page
    page.context.close()
    assert said == []


def test_a_report_is_accessible(report: Page) -> None:
    """In light and dark, on a phone, its folded words opened too."""
    report.locator("details").evaluate_all("all => all.forEach(each => each.open = true)")
    for scheme in ("light", "dark"):
        report.emulate_media(color_scheme=scheme)
        assert violations(report) == [], scheme


def test_a_report_is_never_moved_sideways(report: Page) -> None:
    """At 360 pixels, nor at the 320 of WCAG 2.2, 1.4.10; every picture can be shown."""
    report.locator("details").evaluate_all("all => all.forEach(each => each.open = true)")
    loaded = report.locator("img").evaluate_all("all => all.every(i => i.naturalWidth > 0)")
    assert loaded
    for width in (360, 320):
        report.set_viewport_size({"width": width, "height": 740})
        assert report.evaluate("document.documentElement.scrollWidth") == width
