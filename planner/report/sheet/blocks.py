"""What a written sheet is made of, whatever it is written in: headings, facts, tables, files."""

from collections.abc import Sequence
from dataclasses import dataclass

from planner.report.sheet.nouns import Attached


@dataclass(frozen=True, slots=True)
class Strong:
    """Words that must not be overlooked."""

    text: str


@dataclass(frozen=True, slots=True)
class Digits:
    """Digits of a hash, or a command: to be copied as they stand."""

    text: str


Words = str | Strong | Digits | tuple[str | Strong | Digits, ...]
"""Plain words, or a sequence with some that stand out."""


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading; levels go down by one at a time."""

    level: int
    text: str


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A paragraph."""

    words: Words


@dataclass(frozen=True, slots=True)
class Facts:
    """Labels, each with what it says."""

    rows: tuple[tuple[str, Words], ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A table whose first row and first column are its headers."""

    head: tuple[str, ...]
    rows: tuple[tuple[Words, ...], ...]


@dataclass(frozen=True, slots=True)
class Files:
    """Attached files, those that can be shown with their picture."""

    files: tuple[Attached, ...]


Block = Heading | Paragraph | Facts | Table | Files


def parts_of(words: Words) -> Sequence[str | Strong | Digits]:
    """The words one part after the other."""
    return words if isinstance(words, tuple) else (words,)
