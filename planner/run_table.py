"""The form of the run table that `export` writes and `import` reads: headings, cells, identities.

RFC 4180: one row of headings, one row a run. Units stand in the headings, so that every cell
of a column is a bare number to a spreadsheet and to pandas alike.
"""

import re
from enum import StrEnum
from typing import NamedTuple

FIXED = (
    "run",
    "time",
    "bench",
    "outcome",
    "workload",
    "run_minutes",
    "minutes",
    "failed_after_s",
    "errors",
    "score",
    "capped",
    "symptom",
    "suspect",
    "note",
    "boot",
    "cold",
    "amended",
    "proposed",
    "at_own_risk",
    "definition",
    "changes_told",
    "origin",
)
"""Columns that every table has, in this order; those of knobs and readings follow."""

_STARTERS = "=+-@\t\r\n\N{FULLWIDTH EQUALS SIGN}\N{FULLWIDTH PLUS SIGN}"
_STARTERS += "\N{FULLWIDTH HYPHEN-MINUS}\N{FULLWIDTH COMMERCIAL AT}"
_GUARD = "'"
_GUARDED = frozenset(_STARTERS + _GUARD)
"""A text that begins with one of these gets a guard before it."""
_WITH_UNIT = re.compile(r"(\S+) \[(.+)\]")


class Part(StrEnum):
    """What a column that is named after something in the study holds of it."""

    SET = "set"
    """A knob as it was set."""
    RAN = "ran"
    """What really ran, where that was not as set."""
    DERIVED = "derived"
    READING = "reading"
    SUB = "sub"
    """A part of the score."""


class Heading(NamedTuple):
    """A heading taken apart."""

    part: Part | None
    """None: a fixed column, or a name without a word before it."""
    name: str
    unit: str


def heading(part: Part, name: str, unit: str = "") -> str:
    """The heading of a column: `set core_clock [MHz]`."""
    return f"{part} {name} [{unit}]" if unit else f"{part} {name}"


def split_heading(text: str) -> Heading:
    """The parts of a heading as `heading` puts it together; of a person's, the word may lack."""
    word, blank, rest = text.partition(" ")
    part = Part(word) if blank and word in tuple(Part) else None
    name = text if part is None else rest
    if part is Part.SUB:  # a free text without a unit
        return Heading(part, name, "")
    match = _WITH_UNIT.fullmatch(name.strip())
    return Heading(part, match[1], match[2]) if match else Heading(part, name.strip(), "")


def number_text(value: float) -> str:
    """The shortest text that reads back as exactly the same number."""
    return repr(value).removesuffix(".0")


def guarded(text: str) -> str:
    """The text as a cell that no spreadsheet takes for a formula: with `'` before it if need be."""
    return _GUARD + text if text[:1] in _GUARDED and text else text


def unguarded(cell: str) -> str:
    """The text that `guarded` made a cell of."""
    return cell[1:] if cell[:1] == _GUARD and cell[1:2] in _GUARDED and cell[1:] else cell


def identity(number: int | str, bench: str, time: str) -> str:
    """What tells a run from all others, in every study that it is taken into."""
    return f"run {number} of {bench}, {time}"
