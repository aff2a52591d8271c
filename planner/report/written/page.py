"""A document as one HTML file that needs nothing else: no script, no resource from outside.

Everything that people typed is escaped, pictures are data in `img` elements, where no script of
an SVG can run (HTML standard, images), and a policy in the page forbids all but its own style.
"""

import re
from base64 import b64encode
from collections.abc import Iterable, Sequence
from html import escape

from planner.report.written.blocks import (
    Attached,
    Digits,
    Drawn,
    Facts,
    Files,
    Heading,
    Link,
    Listing,
    PageBlock,
    Paragraph,
    Strong,
    Table,
    Words,
    parts_of,
)
from planner.report.written.look import style_text
from planner.report.written.plain import many_lines, one_line

_IN_WORDS = "This picture in words"
_TIED = re.compile(r"(?<=\d) (?=[A-Za-z\N{DEGREE SIGN}])")
_POLICY = "default-src 'none'; img-src data:; style-src 'unsafe-inline'"


def page_of(title: str, blocks: Iterable[PageBlock], contents: str = "") -> str:
    """The whole page; ends with a line feed. `contents`: heading of a list of its parts."""
    whole = list(blocks)
    parts = [place for place, block in enumerate(whole) if _is_part(block)]
    start = parts[0] if contents and parts else len(whole)
    lines = [
        "<!doctype html>",
        '<html lang="en-GB">',
        "<head>",
        '<meta charset="utf-8">',
        f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}">',
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        f"<title>{_escaped(title)}</title>",
        f"<style>\n{style_text()}</style>",
        "</head>",
        "<body>",
        "<main>",
        *(line for block in whole[:start] for line in _lines(block)),
        *(_contents(contents, whole) if contents else ()),
        *(line for block in whole[start:] for line in _lines(block)),
        "</main>",
        "</body>",
        "</html>",
    ]
    return "\n".join(lines) + "\n"


def _contents(name: str, blocks: Sequence[PageBlock]) -> list[str]:
    """Links to the parts that can be named."""
    parts = [block for block in blocks if isinstance(block, Heading) and _is_part(block)]
    links = [f"<li>{_inline(Link(part.text, part.anchor))}</li>" for part in parts]
    return [f'<nav aria-label="{_escaped(name)}">', "<ul>", *links, "</ul>", "</nav>"]


def _is_part(block: PageBlock) -> bool:
    return isinstance(block, Heading) and block.level == 2 and bool(block.anchor)


def _lines(block: PageBlock) -> list[str]:
    match block:
        case Heading(level, text, anchor):
            named = f' id="{_escaped(anchor)}"' if anchor else ""
            return [f"<h{level}{named}>{_escaped(text)}</h{level}>"]
        case Paragraph(words):
            return [f"<p>{_inline(words)}</p>"]
        case Facts(rows):
            body = [f"{_cell('row', label)}<td>{_inline(words)}</td>" for label, words in rows]
            return ['<table class="facts">', *_body(body), "</table>"]
        case Table():
            return _table(block)
        case Listing(text):
            return [f"<pre>{escape(many_lines(text))}</pre>"]
        case Drawn():
            return _drawn(block)
        case Files(files):
            return [line for file in files for line in _figure(file)]


def _table(table: Table) -> list[str]:
    top = "".join(_cell("col", name) for name in table.head)
    body = [_cell("row", first) + _cells(rest) for first, *rest in table.rows]
    lines = ["<table>", f"<thead><tr>{top}</tr></thead>", *_body(body), "</table>"]
    return _aside(table.wide, lines) if table.wide else lines


def _aside(name: str, lines: list[str]) -> list[str]:
    """A part that can be moved sideways where it is too wide, by keyboard too."""
    return [
        f'<div class="wide" role="region" tabindex="0" aria-label="{_escaped(name)}">',
        *lines,
        "</div>",
    ]


def _drawn(picture: Drawn) -> list[str]:
    data = f"data:image/svg+xml;base64,{b64encode(picture.svg).decode('ascii')}"
    image = f'<img src="{data}" alt="{_escaped(picture.title)}">'
    words = f"<details><summary>{_IN_WORDS}</summary>{_escaped(picture.alternative)}</details>"
    caption = f"<figcaption>{words}</figcaption>"
    return ["<figure>", *_aside(f"Picture: {picture.title}", [image]), caption, "</figure>"]


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
            case Link(text, anchor):
                written.append(f'<a href="#{_escaped(anchor)}">{_escaped(text)}</a>')
            case _:
                written.append(_escaped(part))
    return "".join(written)


def _escaped(text: str) -> str:
    """A number and its unit stay on one line."""
    return escape(_TIED.sub("\N{NO-BREAK SPACE}", one_line(text)))
