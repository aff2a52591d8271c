"""Times as they are typed at a bench: `85s`, `1.5min`, `1m25s`, `2 min`."""

import re
from collections.abc import Sequence
from decimal import Decimal

_NUMBER = r"(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)"
_UNIT = r"(?:seconds|second|secs|sec|s|minutes|minute|mins|min|m|hours|hour|h)"
_PART = re.compile(f"({_NUMBER})({_UNIT})")
_DURATION = re.compile(f"(?:{_NUMBER}{_UNIT}){{1,3}}")
_SECONDS = {"h": 3600, "m": 60, "s": 1}
"""By the unit's first letter, the largest first."""
_MOST_WORDS, _LONGEST = 6, 40
"""Words and characters that one time may take: `1 h 2 min 3 s`."""


def duration_in(words: Sequence[str]) -> tuple[Decimal, int] | None:
    """The time in s that the words begin with, and how many of them it takes; None: no time."""
    for count in range(min(len(words), _MOST_WORDS), 0, -1):
        text = "".join(words[:count]).casefold()
        if len(text) > _LONGEST or not _DURATION.fullmatch(text):
            continue
        parts = [(Decimal(number), unit[0]) for number, unit in _PART.findall(text)]
        if _in_order(parts):
            return sum((number * _SECONDS[unit] for number, unit in parts), Decimal()), count
    return None


def _in_order(parts: Sequence[tuple[Decimal, str]]) -> bool:
    """Whether each unit comes once, the largest first, and only the first may run past 59."""
    units = [unit for _, unit in parts]
    carried = all(number < 60 for number, _ in parts[1:])
    return carried and units == [unit for unit in _SECONDS if unit in units]
