"""What a ledger line can hold and give back as it was: plain JSON, finite, not too deep."""

import re
from collections.abc import Iterable, Mapping
from math import isfinite

from planner.domain.event import Event

TEXT = r'[^"\\\x00-\x1f]*'
"""Pattern of `time`, `bench` and `id`: what stands in JSON without an escape."""
MAX_DEPTH = 64
"""Deepest nesting of a body, far from where any reader's stack ends."""


def find_fault(event: Event) -> str | None:
    """The first value of `event` that a line cannot hold, and what was expected there."""
    for name in ("time", "bench", "id"):
        value = getattr(event, name)
        if not isinstance(value, str) or not re.fullmatch(TEXT, value):
            return f"{name} must be text without quotes, backslashes and control characters"
        if fault := _find(value, name, 0):
            return fault
    return _find(event.body, "body", 0)


def _find(value: object, where: str, depth: int) -> str | None:
    parts: Iterable[tuple[object, str]]
    match value:
        case None | bool():
            return None
        case int():
            small = -(2**63) <= value < 2**64
            return None if small else f"{where} is an integer of more than 64 bits"
        case float():
            return None if isfinite(value) else f"{where} is {value}, not a finite number"
        case str():
            half = any("\ud800" <= character <= "\udfff" for character in value)
            return f"{where} holds half a character (a lone surrogate)" if half else None
        case _ if depth == MAX_DEPTH:
            return f"a value is nested deeper than {MAX_DEPTH} levels"
        case list():
            parts = ((part, f"{where}[{index}]") for index, part in enumerate(value))
        case Mapping():
            if odd := [key for key in value if not isinstance(key, str) or _find(key, "", 0)]:
                return f"{where} has the key {odd[0]!r}, which is not text"
            parts = ((part, f"{where}.{key}") for key, part in value.items())
        case _:
            return f"{where} is a {type(value).__name__}, not text, number, list or table"
    found = (_find(part, name, depth + 1) for part, name in parts)
    return next((fault for fault in found if fault), None)
