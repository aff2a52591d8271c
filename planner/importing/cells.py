"""What the text of one cell says: numbers with units, words, texts."""

import re
from collections.abc import Callable, Iterable
from typing import Any

from planner.domain.knob import Knob, Value
from planner.domain.quantity import parse_number
from planner.errors import RecordError

Reader = Callable[[str, str], Any]
"""From a cell, guard removed, and the place that opens a message to the value; RecordError or
InputError where it is none."""

_BARE = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?")
_DECIMAL_COMMA = re.compile(r"([+-]?\d*),(\d+)(?![\d.,])(.*)", re.DOTALL)
_YES, _NO = ("yes", "true", "1"), ("no", "false", "0")
LONGEST_SHOWN = 60
"""Characters of a cell that a message repeats."""


def shown(cell: str) -> str:
    """The cell in quotes, cut where it is long."""
    return repr(cell if len(cell) <= LONGEST_SHOWN else cell[:LONGEST_SHOWN] + "..")


def number(unit: str, heading_unit: str, comma: bool) -> Reader:
    """Numbers in `unit`; bare ones stand in `heading_unit`; `comma`: they may have a comma."""

    def read(cell: str, where: str) -> float:
        text = cell.strip()
        if comma and (match := _DECIMAL_COMMA.fullmatch(text)):
            text = f"{match[1]}.{match[2]}{match[3]}"
        if heading_unit != unit and _BARE.fullmatch(text):
            text = f"{text} {heading_unit}"
        return parse_number(text, unit, where)

    return read


def whole(cell: str, where: str) -> int:
    """A whole number from 0."""
    text = cell.strip()
    if not text.isascii() or not text.isdigit() or len(text) > 15:
        raise RecordError(f"{where} = {shown(cell)}: expected a whole number from 0")
    return int(text)


def word(known: Iterable[str]) -> Reader:
    """One of the words known, in whatever case."""
    words = tuple(str(each) for each in known)

    def read(cell: str, where: str) -> str:
        text = cell.strip().lower()
        if text not in words:
            raise RecordError(f"{where} = {shown(cell)}: expected one of " + ", ".join(words))
        return text

    return read


def yes_or_no(cell: str, where: str) -> bool:
    """Yes or no."""
    text = cell.strip().lower()
    if text not in _YES + _NO:
        raise RecordError(f"{where} = {shown(cell)}: expected yes or no")
    return text in _YES


def boot(cell: str, where: str) -> int | str:
    """The number of the boot that it ran on, or how the machine was started for it."""
    text = cell.strip().lower()
    if text in ("cold", "warm"):
        return text
    try:
        return whole(text, where)
    except RecordError:
        raise RecordError(
            f"{where} = {shown(cell)}: expected the boot's number, or cold or warm where the"
            " machine was started for this run"
        ) from None


def choice(knob: Knob) -> Reader:
    """One of the values of a choice."""

    def read(cell: str, where: str) -> Value:
        chosen = knob.choice(cell)
        if chosen is None:
            chosen = knob.choice(cell.strip())
        if chosen is None and _BARE.fullmatch(cell.strip()):
            chosen = next((v for v in knob.choices if v == float(cell)), None)
        if chosen is None:
            raise RecordError(f"{where} = {shown(cell)}: expected {knob.describe_values()}")
        return chosen

    return read


def label(cell: str, where: str) -> str:
    """A name without blanks around it."""
    return cell.strip()


def text(cell: str, where: str) -> str:
    """The text as it stands."""
    return cell


def short_text(cell: str, where: str) -> str:
    """What identifies a run elsewhere."""
    plain = cell.strip()
    if len(plain) > LONGEST_SHOWN or not plain.isprintable():
        raise RecordError(
            f"{where} = {shown(cell)}: expected at most {LONGEST_SHOWN} printable characters"
        )
    return plain
