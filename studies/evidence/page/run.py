"""The page in a real browser: how soon it can be used, and when everything stands on it."""

from __future__ import annotations

import argparse
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from made import AIMS, make_study
from playwright.sync_api import Browser, sync_playwright

LIMITS = {60: 0.5, 5000: 1.5}
"""Seconds within which it is to be usable, by runs on record."""
QUIET = ["--disable-gpu", "--disable-background-networking", "--disable-dev-shm-usage"]
LONGEST_MS = 120_000


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """The link of a page that a process of its own serves."""
    words = [sys.executable, "-m", "planner", "serve", str(folder), "--port", "0"]
    with subprocess.Popen(
        words, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
    ) as process:
        assert process.stdout is not None
        yield process.stdout.readline().strip()
        process.kill()


def seconds(browser: Browser, link: str) -> tuple[float, float, float]:
    """From asking to: an answer or an own run can be tapped; all is worked out; pictures stand."""
    page = browser.new_context(viewport={"width": 360, "height": 740}).new_page()
    page.set_default_timeout(LONGEST_MS)
    started = time.perf_counter()
    page.goto(link, wait_until="domcontentloaded")
    page.locator("#form button:enabled, a[href=own]").first.wait_for()
    usable = time.perf_counter() - started
    page.get_by_role("heading", name="To keep").first.wait_for()
    page.locator("#form").wait_for()
    told = time.perf_counter() - started
    page.locator(".pictures img").first.wait_for()
    drawn = time.perf_counter() - started
    page.context.close()
    return usable, told, drawn


def row(browser: Browser, folder: Path, aim: str, runs: int, times: int) -> str:
    """The first visit after the start, and the median and worst of the later ones."""
    with served(make_study(folder, aim, runs)) as link:
        first = seconds(browser, link)
        later = list(zip(*(seconds(browser, link) for _ in range(times)), strict=True))
    shown = [f"{value:.2f}" for value in first]
    shown += [f"{statistics.median(part):.2f} ({max(part):.2f})" for part in later]
    return f"| {aim} | {runs:,} | {' | '.join(shown)} | {LIMITS[runs]} |"


def main() -> None:
    """Prints one row for each aim and number of runs."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--times", type=int, default=9, help="later visits of each study")
    times = parser.parse_args().times
    print(
        "| aim | runs | first: usable s | all told s | drawn s"
        " | later: usable s | all told s | drawn s | asked for |\n|" + "---|" * 9
    )
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        raise SystemExit("no Chromium on this machine: apt-get install chromium")
    root = ["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
    with tempfile.TemporaryDirectory() as place, sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=chromium, args=[*QUIET, *root])
        for aim in AIMS:
            for runs in LIMITS:
                print(row(browser, Path(place) / f"{aim}{runs}", aim, runs, times), flush=True)
        browser.close()


if __name__ == "__main__":
    main()
