"""A link as a QR code (ISO/IEC 18004) on a terminal, two rows of it to a line."""

import sys

import segno

_QUIET = 4
"""Modules of white around it, as the standard asks for."""
_HALVES = {(0, 0): " ", (1, 0): "\N{UPPER HALF BLOCK}", (0, 1): "\N{LOWER HALF BLOCK}"}
_HALVES[1, 1] = "\N{FULL BLOCK}"
_BLACK_ON_WHITE, _PLAIN = "\x1b[38;5;16;48;5;231m", "\x1b[0m"
"""Whatever the terminal's own colours: readers want dark modules on light ground."""


def drawn_code(link: str) -> str:
    """The code in lines; empty where the terminal cannot print half blocks."""
    try:
        "".join(_HALVES.values()).encode(sys.stdout.encoding or "ascii")
    except (LookupError, UnicodeEncodeError):
        return ""
    rows = modules(link)
    rows += [[0] * len(rows[0])] * (len(rows) % 2)
    return "\n".join(
        _BLACK_ON_WHITE + "".join(_HALVES[pair] for pair in zip(*two, strict=True)) + _PLAIN
        for two in zip(rows[::2], rows[1::2], strict=True)
    )


def modules(link: str) -> list[list[int]]:
    """The code's rows, 1 for dark, its quiet zone included."""
    code = segno.make_qr(link, error="m")
    return [list(map(int, row)) for row in code.matrix_iter(border=_QUIET)]
