"""The timings that a study's setting sets."""

from collections.abc import Mapping

from planner.domain.definition import Definition
from planner.domain.knob import Knob, Value
from planner.domain.memory import Standard
from planner.domain.quantity import canonical_unit, conversion, format_number, is_clocks
from planner.domain.tables import Derived
from planner.errors import InputError
from planner.trade.timing.clocks import clock_ps, least_clocks, most_clocks
from planner.trade.timing.names import Timing, timing_named

_RATE = "data_rate"


def rate_of(definition: Definition, setting: Mapping[str, Value]) -> float:
    """The data rate in MT/s that a complete setting sets.

    Raises:
        InputError: no knob or derived value tells it, or several do.
    """
    numbers = definition.numbers(setting)
    units = {name: knob.unit for name, knob in definition.knobs.items()}
    units |= {name: derived.unit for name, derived in definition.derived.items()}
    factors = {name: conversion(unit, "MT/s") for name, unit in units.items() if name in numbers}
    told = [name for name, factor in factors.items() if factor is not None]
    if len(told) > 1:
        told = [name for name in told if name == _RATE] or told
    if len(told) != 1:
        found = f"{' and '.join(told)} are both in MT/s" if told else "nothing is in MT/s"
        raise InputError(
            f"{definition.goal.name}: {found}, expected one knob or derived value, as {_RATE}, or"
            " type the rate, as DDR5-6000"
        )
    return numbers[told[0]] * (factors[told[0]] or 1.0)


def clocks_of(
    definition: Definition, setting: Mapping[str, Value], standard: Standard, rate: float
) -> dict[str, int]:
    """Clocks of every timing that a knob or derived value of the study is named after.

    Raises:
        InputError: a value that is no whole number of clocks, or two names of one timing.
    """
    found: dict[str, int] = {}
    numbers = definition.numbers(setting)
    nouns: dict[str, Knob | Derived] = {**definition.knobs, **definition.derived}
    for name, noun in nouns.items():
        timing = timing_named(name)
        if timing is None or name not in numbers or not _is_timed(noun.unit):
            continue
        if timing.name in found:
            raise InputError(f"{name}: a second name of {timing.name}, expected one")
        found[timing.name] = _clocks(timing, name, numbers[name], noun.unit, standard, rate)
    return found


def _is_timed(unit: str) -> bool:
    return _counted(unit) or conversion(canonical_unit(unit), "ps") is not None


def _counted(unit: str) -> bool:
    """Whether it counts clocks; a timing without a unit does."""
    return not unit or is_clocks(unit)


def _clocks(
    timing: Timing, name: str, value: float, unit: str, standard: Standard, rate: float
) -> int:
    if _counted(unit):
        if value != int(value):
            raise InputError(f"{name} = {format_number(value)}: expected whole clocks")
        return int(value)
    ps = round(value * (conversion(unit, "ps") or 1.0))
    if timing.is_maximum:
        return most_clocks(ps, clock_ps(rate))
    return least_clocks(ps, clock_ps(rate), standard)
