"""A real Chromium at a page that another process serves; skipped where there is no Chromium."""

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

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


@pytest.fixture
def page(chromium: "playwright.Browser", bench: Bench) -> Iterator["playwright.Page"]:
    """The page in a window of its own; whatever stands on its console fails the test."""
    context = chromium.new_context(viewport={"width": 360, "height": 740})
    context.set_default_timeout(LONGEST_MS)
    opened = context.new_page()
    said: list[str] = []
    opened.on("console", lambda line: said.append(line.text) if line.type != "log" else None)
    opened.on("pageerror", lambda error: said.append(str(error)))
    opened.goto(bench.link)
    yield opened
    context.close()
    assert said == []
