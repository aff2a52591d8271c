"""Timings as people type them: `DDR5-6000 tCL=30 tRFC=295ns`."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from planner.domain.memory import Standard
from planner.domain.quantity import parse_number
from planner.errors import InputError
from planner.trade.timing.clocks import clock_ps, least_clocks, most_clocks
from planner.trade.timing.names import TIMINGS, Timing, timing_named
from planner.trade.timing.timings import RATES, Timings

_STANDARD = re.compile(r"(ddr[45])(?:-(\d+(?:\.\d+)?))?", re.IGNORECASE)
_EXPECTED = "expected DDR4 or DDR5, with a data rate as in DDR5-6000, or TIMING=CLOCKS"


@dataclass(frozen=True, slots=True)
class Typed:
    """What was typed; what was not is None or absent."""

    standard: Standard | None
    rate: float | None
    """MT/s."""
    values: Mapping[str, str]
    """By the timing's name in the standard, as written: clocks, or a time with its unit."""

    def timings(self, standard: Standard, rate: float, others: Mapping[str, int]) -> Timings:
        """The set of timings: what was typed over what is known otherwise.

        Raises:
            InputError: a value that is neither whole clocks nor a time, or that no memory has.
        """
        typed = {
            name: to_clocks(TIMINGS[name], value, standard, rate)
            for name, value in self.values.items()
        }
        try:
            return Timings(standard, rate, {**others, **typed})
        except ValueError as error:
            raise InputError(str(error)) from None


def parse_words(words: Sequence[str]) -> Typed:
    """What the words say.

    Raises:
        InputError: a word that is neither a standard nor TIMING=VALUE, or something given twice.
    """
    standard: Standard | None = None
    rate: float | None = None
    values: dict[str, str] = {}
    for word in words:
        name, sign, value = word.partition("=")
        if sign:
            timing = _timing(name.strip(), word)
            if timing.name in values:
                raise InputError(f"{word!r}: {timing.name} is given twice, expected once")
            values[timing.name] = value.strip()
            continue
        match = _STANDARD.fullmatch(word.strip())
        if match is None:
            raise InputError(f"{word!r}: {_EXPECTED}")
        if standard is not None:
            raise InputError(f"{word!r}: {standard} is given already, expected one data rate")
        standard = Standard(match[1].upper())
        rate = parse_rate(match[2], word) if match[2] else None
    return Typed(standard, rate, values)


def parse_rate(given: str, what: str) -> float:
    """A data rate in MT/s; also as DDR5-6400.

    Raises:
        InputError: no number, or a rate that no memory has.
    """
    rate = parse_number(re.sub(r"(?i)^ddr[45]-", "", given), "MT/s", what)
    if not RATES[0] <= rate <= RATES[1]:
        raise InputError(
            f"{what}: data rate = {rate:g} MT/s: expected {RATES[0]:g} to {RATES[1]:g}"
        )
    return rate


def to_clocks(timing: Timing, given: str, standard: Standard, rate: float) -> int:
    """Whole clocks as written, or a time in clocks by the standard's rounding.

    Raises:
        InputError: neither, or a time for what is a plain count of clocks.
    """
    if re.fullmatch(r"\d{1,12}", given):
        return int(given)
    expected = "whole clocks" + (", or a time as 295ns" if timing.is_time else "")
    if not timing.is_time or not re.match(r"(?i)[\d.]+.*[a-z]", given):
        raise InputError(f"{timing.name} = {given!r}: expected {expected}")
    ps = parse_number(given, "ps", timing.name)
    if not 0 < ps < 1e12:
        raise InputError(f"{timing.name} = {given!r}: expected {expected}")
    if timing.is_maximum:
        return most_clocks(round(ps), clock_ps(rate))
    return least_clocks(round(ps), clock_ps(rate), standard)


def _timing(name: str, word: str) -> Timing:
    timing = timing_named(name)
    if timing is None:
        raise InputError(
            f"{word!r}: no timing {name!r} known, expected one of {', '.join(TIMINGS)}"
        )
    return timing
