"""A sheet as one HTML file that needs nothing else: no script, no resource from outside.

Everything that people typed is escaped, pictures are data in `img` elements, where no script of
an SVG can run (HTML standard, images), and a policy in the page forbids all but its own style.
"""

import re
from base64 import b64encode
from collections.abc import Sequence
from html import escape

from planner.report.sheet.blocks import (
    Block,
    Digits,
    Facts,
    Files,
    Heading,
    Paragraph,
    Strong,
    Table,
    Words,
    parts_of,
)
from planner.report.sheet.look import style_text
from planner.report.sheet.nouns import Attached, Sheet
from planner.report.sheet.plain import one_line
from planner.report.sheet.words import blocks_of, title

_TIED = re.compile(r"(?<=\d) (?=[A-Za-z\N{DEGREE SIGN}])")
_POLICY = "default-src 'none'; img-src data:; style-src 'unsafe-inline'"


def page_text(sheet: Sheet) -> str:
    """The whole page; ends with a line feed."""
    lines = [
        "<!doctype html>",
        '<html lang="en-GB">',
        "<head>",
        '<meta charset="utf-8">',
        f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}">',
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        f"<title>{_escaped(title(sheet))}</title>",
        f"<style>\n{style_text()}</style>",
        "</head>",
        "<body>",
        "<main>",
        *(line for block in blocks_of(sheet) for line in _lines(block)),
        "</main>",
        "</body>",
        "</html>",
    ]
    return "\n".join(lines) + "\n"


def _lines(block: Block) -> list[str]:
    match block:
        case Heading(level, text):
            return [f"<h{level}>{_escaped(text)}</h{level}>"]
        case Paragraph(words):
            return [f"<p>{_inline(words)}</p>"]
        case Facts(rows):
            body = [f"{_cell('row', label)}<td>{_inline(words)}</td>" for label, words in rows]
            return ['<table class="facts">', *_body(body), "</table>"]
        case Table(head, rows):
            top = "".join(_cell("col", name) for name in head)
            body = [_cell("row", first) + _cells(rest) for first, *rest in rows]
            return ["<table>", f"<thead><tr>{top}</tr></thead>", *_body(body), "</table>"]
        case Files(files):
            return [line for file in files for line in _figure(file)]


def _body(rows: Sequence[str]) -> list[str]:
    return ["<tbody>", *(f"<tr>{row}</tr>" for row in rows), "</tbody>"]


def _cell(scope: str, words: Words) -> str:
    return f'<th scope="{scope}">{_inline(words)}</th>'


def _cells(cells: Sequence[Words]) -> str:
    return "".join(f"<td>{_inline(words)}</td>" for words in cells)


def _figure(file: Attached) -> list[str]:
    name = _escaped(file.name)
    caption = f"{name}, {file.size} bytes, SHA-256 <code>{file.sha256}</code>"
    if file.content is None:
        return [f"<p>{caption}</p>"]
    data = f"data:{file.media_type};base64,{b64encode(file.content).decode('ascii')}"
    return [
        "<figure>",
        f'<img src="{data}" alt="Attached picture {name}">',
        f"<figcaption>{caption}</figcaption>",
        "</figure>",
    ]


def _inline(words: Words) -> str:
    written = []
    for part in parts_of(words):
        match part:
            case Strong(text):
                written.append(f"<strong>{_escaped(text)}</strong>")
            case Digits(text):
                written.append(f"<code>{_escaped(text)}</code>")
            case _:
                written.append(_escaped(part))
    return "".join(written)


def _escaped(text: str) -> str:
    """A number and its unit stay on one line."""
    return escape(_TIED.sub("\N{NO-BREAK SPACE}", one_line(text)))
