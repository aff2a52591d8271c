"""What a person does at the page, and waits for; no waiting by the clock."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from playwright.sync_api import Page


def at_run(page: Page, run: int) -> None:
    """Wait until the page asks for that run and takes taps."""
    page.get_by_role("heading", name=f"Run {run} of box").wait_for()
    page.clock.run_for(1100)  # taps are taken a second after a run is shown


def fill(page: Page, **fields: str) -> None:
    """Type into the fields of these names."""
    for name, text in fields.items():
        page.locator(f'[name="{name}"]').fill(text)


def tap(page: Page, outcome: str) -> None:
    """Press the button that says how it ended."""
    page.get_by_role("button", name=outcome, exact=True).click()


def told(page: Page, words: str) -> None:
    """Wait until the words are to be seen."""
    page.get_by_text(words).first.wait_for()
