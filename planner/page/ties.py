"""Where a line may break on a narrow screen: no number leaves its unit, long names part at `_`."""

import re

from markupsafe import Markup, escape

from planner.report.text import layout

_PARTS = re.compile(r"(?<=\w)_(?=\w)")


def tied(text: str) -> Markup:
    """The text as markup, each number and its unit on one line."""
    return escape(layout.tied(layout.clean(text)))


def cell(text: str) -> Markup:
    """The same for a cell of a table; a name may part after each `_`, and is copied whole."""
    return Markup(_PARTS.sub("_<wbr>", tied(text)))
