"""One probe: the person's command prints readings, one `name=value` a line."""

from collections.abc import Iterable, Mapping
from math import isfinite

from planner.domain.definition import Definition
from planner.domain.quantity import parse_number, with_unit
from planner.domain.tables import Reading, Role
from planner.driving.process import Process
from planner.errors import InputError

_LAST_COUNTS = (Role.ROOM, Role.HUMIDITY)
"""Of the room the last reading counts; of all others the highest."""


class ProbeLost(Exception):
    """The probe told nothing that can be relied on; the message says what."""


def is_over(process: Process, limit_s: float) -> bool:
    """Whether the probe has ended, or had its time."""
    return process.ends_within(0) or process.seconds >= limit_s


def taken(process: Process, limit_s: float, readings: Mapping[str, Reading]) -> dict[str, float]:
    """What a probe that is over printed of the study's readings, in their units.

    Raises:
        ProbeLost: it failed, hung, or left out a reading that has a stop.
    """
    in_time = process.ends_within(0)
    ended = process.end()
    if not in_time:
        raise ProbeLost(f"the probe gave no answer within {limit_s:g} s")
    if ended.code:
        raise ProbeLost(f"the probe failed: {ended.with_last_words}")
    found = _parsed(ended.output, readings)
    missing = [n for n, r in readings.items() if r.stop is not None and n not in found]
    if missing:
        raise ProbeLost(f"the probe told no {missing[0]}, which has a stop")
    return found


def _parsed(output: str, readings: Mapping[str, Reading]) -> dict[str, float]:
    found = {}
    for line in output.splitlines():
        name, sign, text = (part.strip() for part in line.partition("="))
        if not sign or name not in readings:
            continue
        try:
            value = parse_number(text, readings[name].unit, name)
        except InputError:
            raise ProbeLost(f"the probe told {name} as something else than a number") from None
        if not isfinite(value):
            raise ProbeLost(f"the probe told {name} as something else than a number")
        found[name] = value
    return found


def gathered(
    so_far: Mapping[str, float], now: Mapping[str, float], readings: Mapping[str, Reading]
) -> dict[str, float]:
    """The readings of a run: of the room the last, of all others the highest."""
    return {**so_far} | {
        name: value if readings[name].role in _LAST_COUNTS else max(value, so_far.get(name, value))
        for name, value in now.items()
    }


def past_stop(definition: Definition, names: Iterable[str], values: Mapping[str, float]) -> str:
    """The first reading past its stop, in words; empty where none is."""
    for name in names:
        reading = definition.readings[name]
        if reading.stop is not None and values[name] > reading.stop:
            shown = with_unit(values[name], reading.unit)
            return f"{name} {shown} is past its stop of {with_unit(reading.stop, reading.unit)}"
    return ""
