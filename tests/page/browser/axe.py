"""What axe-core finds on a page, by the rules of WCAG 2.2 AA."""

from __future__ import annotations

from importlib.resources import files
from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from playwright.sync_api import Page

pytest.importorskip("axe_playwright_python", reason="axe-playwright-python is not installed")
AXE = files("axe_playwright_python").joinpath("axe.min.js").read_text("utf-8")
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
ASK = """async (tags) => (await axe.run(document, {runOnly: {type: "tag", values: tags}}))
.violations.map((rule) => [rule.id, rule.nodes.map((node) => node.failureSummary)])"""
PHONE = {"width": 360, "height": 740}
WIDE = {"width": 1920, "height": 1080}


def violations(page: Page) -> list[Any]:
    """What axe-core finds; by evaluation, which no policy of the page bars."""
    page.evaluate(AXE)
    found: list[Any] = page.evaluate(ASK, RULES)
    return found
