"""The bytes of a CSV file as headings and rows of cells; what they mean is not known here."""

import csv
import io
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from planner.errors import RecordError

SEPARATORS = (",", ";", "\t")
MAX_BYTES = 64_000_000
"""A larger file is refused before it is parsed."""
MAX_LINE_BYTES = 1_000_000
"""A longer line is none of a table of runs."""
MAX_COLUMNS = 1000
_UTF_16 = (b"\xff\xfe", b"\xfe\xff")


@dataclass(frozen=True, slots=True)
class RawRow:
    """The cells of one row."""

    line: int
    """Number of its first line in the file, from 1."""
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RawTable:
    """A file's headings and rows as texts."""

    separator: str
    headings: tuple[str, ...]
    line: int
    """Number of the line that the headings stand on."""
    rows: tuple[RawRow, ...]
    """Those in which any cell is filled."""


def read_raw(raw: bytes, name: str, knows: Callable[[str], bool]) -> RawTable:
    """The table in a file's bytes; `name` opens messages, `knows` tells whether a heading is one.

    Commas, semicolons and tabs part the cells, whichever makes most of the headings known.

    Raises:
        RecordError: not a table in UTF-8 text; the message names the line.
    """
    text = _text(raw, name)
    separator = max(SEPARATORS, key=lambda sign: _fit(text, sign, knows))
    records = _records(text, separator, name)
    first = next(records, None)
    if first is None:
        raise RecordError(f"{name}: is empty, expected headings and a row for each run")
    if len(first.cells) > MAX_COLUMNS:
        raise RecordError(
            f"{name}: line {first.line}: {len(first.cells)} columns, expected at most {MAX_COLUMNS}"
        )
    rows = tuple(records)
    if not rows:
        raise RecordError(
            f"{name}: has no row below its headings, expected one for each run; nothing was"
            " recorded"
        )
    return RawTable(separator, first.cells, first.line, rows)


def _text(raw: bytes, name: str) -> str:
    if len(raw) > MAX_BYTES:
        raise RecordError(f"{name}: more than {MAX_BYTES} bytes, expected a table of runs")
    if raw.startswith(_UTF_16):
        raise RecordError(f"{name}: is UTF-16 text, expected UTF-8: save it as CSV in UTF-8")
    for line, content in enumerate(raw.split(b"\n"), 1):
        if len(content) > MAX_LINE_BYTES:
            raise RecordError(
                f"{name}: line {line}: more than {MAX_LINE_BYTES} bytes, expected a row of a table"
            )
        if b"\0" in content:
            raise RecordError(f"{name}: line {line}: holds a NUL byte, expected text in UTF-8")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise RecordError(
            f"{name}: line {line}: byte 0x{raw[error.start]:02x} is not UTF-8 text: save it as CSV"
            " in UTF-8"
        ) from None


def _fit(text: str, separator: str, knows: Callable[[str], bool]) -> tuple[int, int]:
    """How many headings are known with this separator, and how many there are."""
    lines = io.StringIO(text[:MAX_LINE_BYTES], newline="")
    try:
        cells = next((c for c in csv.reader(lines, delimiter=separator) if any(c)), [])
    except csv.Error:
        return 0, 0
    return sum(map(knows, cells)), len(cells)


def _records(text: str, separator: str, name: str) -> Iterator[RawRow]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    while True:
        line = reader.line_num + 1
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            raise RecordError(f"{name}: line {line}: cannot be read as CSV: {error}") from None
        if any(cell.strip() for cell in cells):
            yield RawRow(line, tuple(cells))
