"""A document as Markdown: no word that a person typed can become a mark of the format.

Backslash escapes, entities and tables as in CommonMark 0.31 and its common extension of tables.
"""

import re
from collections.abc import Iterable, Sequence

from planner.report.written.blocks import (
    Block,
    Digits,
    Facts,
    Files,
    Heading,
    Link,
    Paragraph,
    Strong,
    Table,
    Words,
    parts_of,
)
from planner.report.written.plain import one_line

_MARKS = re.compile(r"[\\`*\[\]|~#$]|(?<![^\W_])_|_(?![^\W_])")
"""An underscore between letters, as in `core_clock`, marks nothing and stays readable.

What marks only at the start of a line needs no escape: no line begins with what a person typed.
"""
_ENTITIES = {"&": "&amp;", "<": "&lt;", ">": "&gt;"}


def markdown_of(blocks: Iterable[Block]) -> str:
    """The whole document; ends with a line feed."""
    return "\n\n".join("\n".join(_lines(block)) for block in blocks) + "\n"


def _lines(block: Block) -> list[str]:
    match block:
        case Heading(level, text, _):
            return [f"{'#' * level} {escaped(text)}"]
        case Paragraph(words):
            return [_inline(words)]
        case Facts(rows):
            return [f"- **{escaped(label)}:** {_inline(words)}" for label, words in rows]
        case Table(head, rows, _):
            return [_row(head), _row(["---"] * len(head), plain=True), *map(_row, rows)]
        case Files(files):
            return [
                f"- **{escaped(file.name)}**, {file.size} bytes, SHA-256 `{file.sha256}`"
                for file in files
            ]


def _row(cells: Sequence[Words], plain: bool = False) -> str:
    return f"| {' | '.join(str(c) if plain else _inline(c) for c in cells)} |"


def _inline(words: Words) -> str:
    written = []
    for part in parts_of(words):
        match part:
            case Strong(text):
                written.append(f"**{escaped(text)}**")
            case Digits(text):
                written.append(f"`{one_line(text).replace('`', '?')}`")
            case Link(text, _):
                written.append(escaped(text))
            case _:
                written.append(escaped(part))
    return "".join(written)


def escaped(text: str) -> str:
    """The text as it is to be read, on one line, whatever characters it holds."""
    marked = _MARKS.sub(lambda found: "\\" + found[0], one_line(text))
    return "".join(_ENTITIES.get(c, c) for c in marked)
