"""The file that a picture ends in; the same summary gives the same bytes."""

import io
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape

from planner.errors import InputError
from planner.report.pictures.figure import look
from planner.report.pictures.picture import Prepared

FORMATS = (".png", ".svg")


def write_picture(prepared: Prepared, file: Path) -> None:
    """Draw a picture into a .png or .svg file; makes the folder if there is none.

    Raises:
        InputError: another ending, or the file cannot be written.
    """
    kind = file.suffix.lower()
    if kind not in FORMATS:
        raise InputError(f"{file.name}: expected a file ending in {' or '.join(FORMATS)}")
    drawn = picture_bytes(prepared, kind)
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(drawn)
    except OSError as error:
        raise InputError(f"{file}: cannot be written ({error.strerror})") from None


def picture_bytes(prepared: Prepared, kind: str) -> bytes:
    """The picture as PNG or SVG, `.png` or `.svg`, with its words in it."""
    told: dict[str, Any] = {"Title": prepared.title}
    svg = kind == ".svg"
    told |= {"Date": None, "Creator": None} if svg else {"Software": None}
    if not svg:
        told["Description"] = prepared.alternative
    made = io.BytesIO()
    figure = prepared.draw()
    with look():
        figure.savefig(made, format=kind.removeprefix("."), metadata=told)
    return _described(made.getvalue(), prepared.alternative) if svg else made.getvalue()


def _described(svg: bytes, words: str) -> bytes:
    """With the text alternative where readers of screens look for it (SVG 1.1, 5.4)."""
    before, end, after = svg.partition(b"</title>")
    words = "".join(c for c in words if c.isprintable())
    return before + end + f"\n <desc>{escape(words)}</desc>".encode() + after
