"""Lines that fit a width: prose, labelled lines, aligned columns."""

import re
import textwrap
from collections.abc import Sequence

WIDEST = 100
"""Prose is not set wider than this: longer lines are hard to read."""
_GAP = 2
_TIED = "\N{NO-BREAK SPACE}"
_TIES = re.compile(r"(?<=\d) (?=[A-Za-z%\N{DEGREE SIGN}])|(?<=\d to) (?=\d\b)")
"""Before a unit, and in odds as `9 to 1`."""


def clean(text: str) -> str:
    """The text with every character that could steer a terminal, line feeds aside, as `?`."""
    return "".join(c if c.isprintable() or c == "\n" else "?" for c in text)


def tied(text: str) -> str:
    """With no-break spaces: a number keeps the word after it, as its unit, and odds stay whole."""
    return _TIES.sub(_TIED, text)


def prose(text: str, width: int, indent: int = 0, hang: int = 0) -> list[str]:
    """The text in lines of at most `width`, the first by `indent`, the others by `hang` more.

    A number and the word after it, as its unit, stay on one line; so do odds, as `9 to 1`.
    """
    lines = textwrap.wrap(
        tied(text),
        max(min(width, WIDEST), indent + hang + 10),
        initial_indent=" " * indent,
        subsequent_indent=" " * (indent + hang),
        break_on_hyphens=False,
    )
    return [line.replace(_TIED, " ") for line in lines]


def labelled(rows: Sequence[tuple[str, str]], width: int) -> list[str]:
    """`label  text` lines with the texts in one column, wrapped there."""
    column = max((len(label) for label, _ in rows), default=0) + _GAP
    lines = []
    for label, text in rows:
        first, *rest = prose(text, width - column) or [""]
        lines.append(f"{label:<{column}}{first}".rstrip())
        lines += [" " * column + line for line in rest]
    return lines


def columns(rows: Sequence[Sequence[str]], right: Sequence[int] = ()) -> list[str]:
    """The cells of each row in aligned columns; those listed in `right` at their right edge."""
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return [
        (" " * _GAP)
        .join(
            cell.rjust(size) if place in right else cell.ljust(size)
            for place, (cell, size) in enumerate(zip(row, widths, strict=True))
        )
        .rstrip()
        for row in rows
    ]


def widest(lines: Sequence[str]) -> int:
    """Length of the longest line."""
    return max(map(len, lines), default=0)


def shortened(text: str, width: int) -> str:
    """The text on one line, cut where it does not fit."""
    flat = " ".join(text.split())
    return flat if len(flat) <= width else flat[: max(width - 2, 0)] + ".."
