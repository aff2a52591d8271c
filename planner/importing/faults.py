"""What is wrong with a file, by line, and how it is told."""

from collections.abc import Sequence
from typing import NamedTuple

from planner.errors import RecordError

LISTED = 10
"""Faults that are listed; the others are counted."""


class Fault(NamedTuple):
    """One thing that is wrong."""

    line: int
    what: str
    """Column, value and what was expected."""


def refusal(file: str, faults: Sequence[Fault]) -> RecordError:
    """The error to raise for a file with these faults, in the order of its lines."""
    told = [f"line {line}, {what}" for line, what in sorted(faults, key=lambda fault: fault.line)]
    if len(told) == 1:
        return RecordError(f"{file}: {told[0]}; nothing was recorded")
    more = [f"and {len(told) - LISTED} more"] if len(told) > LISTED else []
    head = f"{file}: {len(told)} faults, nothing was recorded:"
    return RecordError("\n  ".join([head, *told[:LISTED], *more]))
