"""What a document is made of, whatever it is written in: headings, facts, tables, pictures."""

from collections.abc import Sequence
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Strong:
    """Words that must not be overlooked."""

    text: str


@dataclass(frozen=True, slots=True)
class Digits:
    """Digits of a hash, or a command: to be copied as they stand."""

    text: str


@dataclass(frozen=True, slots=True)
class Link:
    """Words that lead to a heading of the same document."""

    text: str
    anchor: str


Part = str | Strong | Digits | Link
Words = Part | tuple[Part, ...]
"""Plain words, or a sequence with some that stand out."""


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading; levels go down by one at a time."""

    level: int
    text: str
    anchor: str = ""
    """What links name it by; ASCII letters, digits and `-`."""


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
    wide: str = ""
    """What it shows, where it is too wide for a phone and is to be moved aside; empty: it fits."""


@dataclass(frozen=True, slots=True)
class Listing:
    """Lines of a file, to be copied as they stand."""

    text: str


@dataclass(frozen=True, slots=True)
class Drawn:
    """A picture that the planner drew."""

    title: str
    """What it says, in one sentence."""
    alternative: str
    """One paragraph for those who cannot see it; anyone can open it below the picture."""
    svg: bytes = field(repr=False)


@dataclass(frozen=True, slots=True)
class Attached:
    """A file that goes with the document."""

    name: str
    sha256: str
    """64 hex digits of its bytes."""
    size: int
    """Bytes."""
    media_type: str
    """Of a picture that can be shown; empty: it cannot."""
    content: bytes | None = field(repr=False)
    """Its bytes where it is shown in it; None: it is listed only."""


@dataclass(frozen=True, slots=True)
class Files:
    """Attached files, those that can be shown with their picture."""

    files: tuple[Attached, ...]


Block = Heading | Paragraph | Facts | Table | Files
PageBlock = Block | Listing | Drawn


def parts_of(words: Words) -> Sequence[Part]:
    """The words one part after the other."""
    return words if isinstance(words, tuple) else (words,)
