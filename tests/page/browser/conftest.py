"""A real Chromium at a page that another process serves; skipped where there is no Chromium."""

import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.page.browser.bench import LONGEST_MS, Bench

playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")

CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser"))), None)
QUIET = ["--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"]
QUIET += ["--disable-component-update", "--disable-sync", "--disable-dev-shm-usage"]
"""No traffic of the browser's own."""


@pytest.fixture(scope="module")
def chromium() -> Iterator["playwright.Browser"]:
    """The system's own browser."""
    if CHROMIUM is None:
        pytest.skip("no Chromium on this machine: apt-get install chromium")
    root = ["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
    with playwright.sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=[*QUIET, *root])
        yield browser
        browser.close()


@pytest.fixture
def bench(folder: Path) -> Iterator[Bench]:
    """A study that another process serves."""
    with Bench(folder) as served:
        yield served


def opened(browser: "playwright.Browser", link: str, said: list[str], **looks: Any) -> Any:
    """A page in a window of its own; `said` gets what it prints on its console."""
    context = browser.new_context(**looks)
    context.set_default_timeout(LONGEST_MS)
    page = context.new_page()
    page.on("console", lambda line: said.append(line.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.clock.install()
    page.goto(link)
    return page


@pytest.fixture
def page(chromium: "playwright.Browser", bench: Bench) -> Iterator["playwright.Page"]:
    """The page on a phone; whatever stands on its console fails the test."""
    said: list[str] = []
    shown = opened(chromium, bench.link, said, viewport={"width": 360, "height": 740})
    yield shown
    shown.context.close()
    assert said == []
