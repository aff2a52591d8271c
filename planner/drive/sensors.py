"""What a probe prints: readings by name, as JSON or one `name = value` a line."""

import json
import math
import re
from collections.abc import Mapping

from planner.domain.quantity import parse_number
from planner.domain.tables import Reading
from planner.errors import InputError

MOST_LINES = 2000
"""Lines that are looked at."""
_LINE = re.compile(r"\s*([^\W\d]\w{0,39})\s*[=:]\s*(\S.{0,60}?)\s*")


class NoReadings(Exception):
    """What was printed is no set of readings; the message is the reason."""


def readings_in(text: str, known: Mapping[str, Reading]) -> dict[str, float]:
    """The study's readings by name, in its units; others are passed over.

    Raises:
        NoReadings: none there, one that is no number, or one with a stop is missing.
    """
    given = _as_json(text) if text.lstrip().startswith("{") else _as_lines(text)
    found: dict[str, float] = {}
    for name in known.keys() & given.keys():
        try:
            found[name] = parse_number(given[name], known[name].unit, name)
        except InputError as error:
            raise NoReadings(str(error)[:120]) from None
    if not found:
        raise NoReadings("none of the study's readings is in it")
    missing = [
        name for name, reading in known.items() if reading.stop is not None and name not in found
    ]
    if missing:
        raise NoReadings(f"{', '.join(missing)} has a stop and was not read")
    return found


def past_stop(readings: Mapping[str, float], known: Mapping[str, Reading]) -> str | None:
    """The first reading past its stop; None: none is."""
    for name, reading in known.items():
        if reading.stop is not None and readings.get(name, -math.inf) > reading.stop:
            return name
    return None


def highest(one: Mapping[str, float], other: Mapping[str, float]) -> dict[str, float]:
    """Of each reading the higher value."""
    return {
        name: max(one.get(name, -math.inf), other.get(name, -math.inf))
        for name in (*one, *(n for n in other if n not in one))
    }


def _as_json(text: str) -> dict[str, object]:
    try:
        given = json.loads(text)
    except (ValueError, RecursionError) as error:
        raise NoReadings(f"no JSON: {str(error)[:80]}") from None
    return {n: v for n, v in given.items() if isinstance(n, str) and n.isidentifier()}


def _as_lines(text: str) -> dict[str, object]:
    matches = (_LINE.fullmatch(line) for line in text.splitlines()[:MOST_LINES])
    return {match[1]: match[2] for match in matches if match}
