"""The settings sheet as a page and as Markdown."""

from planner.report.sheet.nouns import Sheet
from planner.report.sheet.words import blocks_of, title
from planner.report.written.markdown import markdown_of
from planner.report.written.page import page_of


def page_text(sheet: Sheet) -> str:
    """The whole page; ends with a line feed."""
    return page_of(title(sheet), blocks_of(sheet))


def markdown_text(sheet: Sheet) -> str:
    """The whole sheet as Markdown; ends with a line feed."""
    return markdown_of(blocks_of(sheet))
