"""Numbers as people type them at a bench: `5100`, `1.35V`, `1350mV`, `5.1GHz`.

A unit is a plain label; units of one dimension that differ by an SI prefix (SI brochure,
9th edition, table 7) are converted by exact decimal factors, everything else must match.
"""

import math
import re
from decimal import Decimal

from planner.errors import InputError

_PREFIXED = {
    "V": ("uV", "mV", "V"),
    "A": ("mA", "A"),
    "W": ("mW", "W", "kW"),
    "Hz": ("Hz", "kHz", "MHz", "GHz"),
    "T/s": ("MT/s", "GT/s"),
    "s": ("ps", "ns", "us", "ms", "s"),
}
_POWER_OF_TEN = {"p": -12, "n": -9, "u": -6, "m": -3, "": 0, "k": 3, "M": 6, "G": 9}
_KNOWN = {
    unit: (base, _POWER_OF_TEN[unit.removesuffix(base)])
    for base, units in _PREFIXED.items()
    for unit in units
}
_KNOWN_TIMES = {"min": Decimal(60), "h": Decimal(3600)}
"""Seconds in the units of time that are no powers of ten (accepted beside the SI)."""
_FOLDED = {unit.casefold(): unit for unit in _KNOWN}
_RATIOS = {"": 0, "x": 0, "%": -2}
_CLOCKS = ("clocks", "clock", "clk", "nck", "tck", "t")
_NUMBER = re.compile(r"\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,3})?)\s*(\S.*?)?\s*")


def canonical_unit(unit: str) -> str:
    """The unit as we print it: known units in their proper case, a micro sign as `u`."""
    plain = unit.strip().replace("\N{MICRO SIGN}", "u").replace("\N{GREEK SMALL LETTER MU}", "u")
    folded = _FOLDED.get(plain.casefold(), plain)
    # `mhz` is MHz, but mega and peta are never read as milli and pico.
    shrinks = folded[:1] in ("m", "p") and plain[:1] != folded[:1]
    return plain if plain in _KNOWN or shrinks else folded


def is_voltage(unit: str) -> bool:
    """Whether the unit measures electric potential."""
    return _KNOWN.get(canonical_unit(unit), ("", 0))[0] == "V"


def is_clocks(unit: str) -> bool:
    """Whether the unit counts clocks, as memory timings do."""
    return unit.casefold() in _CLOCKS


def is_ratio(unit: str) -> bool:
    """Whether the unit is a bare factor (none, `x` or `%`)."""
    return unit in _RATIOS


def conversion(source: str, target: str) -> float | None:
    """The factor from `source` units to `target` units; None where they don't match."""
    source, target = canonical_unit(source), canonical_unit(target)
    if source == target:
        return 1.0
    if source in _RATIOS and target in _RATIOS:
        return float(Decimal(10) ** (_RATIOS[source] - _RATIOS[target]))
    if source in _KNOWN_TIMES or target in _KNOWN_TIMES:
        return _time_conversion(source, target)
    base, power = _KNOWN.get(source, ("", 0))
    target_base, target_power = _KNOWN.get(target, (None, 0))
    return float(Decimal(10) ** (power - target_power)) if base == target_base else None


def _time_conversion(source: str, target: str) -> float | None:
    seconds = []
    for unit in (source, target):
        base, power = _KNOWN.get(unit, ("", 0))
        if base == "s":
            seconds.append(Decimal(10) ** power)
        elif unit in _KNOWN_TIMES:
            seconds.append(_KNOWN_TIMES[unit])
        else:
            return None
    return float(seconds[0] / seconds[1])


def parse_number(given: object, unit: str, what: str) -> float:
    """`given` as a finite number in `unit`; `what` opens the message if it is not one.

    Raises:
        InputError: not a number, not finite, or a unit that does not match.
    """
    if isinstance(given, str):
        return _parse_text(given, unit, what)
    if isinstance(given, bool) or not isinstance(given, (int, float)):
        raise InputError(f"{what} = {given!r}: expected a number{_in_unit(unit)}")
    try:
        value = float(given)
    except OverflowError:
        value = math.inf
    if not math.isfinite(value):
        raise InputError(f"{what} = {given}: expected a finite number{_in_unit(unit)}")
    return value


def _parse_text(given: str, unit: str, what: str) -> float:
    match = _NUMBER.fullmatch(given) if len(given) <= 80 else None
    if match is None:
        raise InputError(f"{what} = {given[:80]!r}: expected a number{_in_unit(unit)}")
    number, suffix = Decimal(match[1]), match[2] or ""
    if suffix.startswith(","):
        raise InputError(
            f"{what} = {given!r}: expected a number{_in_unit(unit)} (write a decimal point, not a"
            " comma)"
        )
    if suffix:
        factor = conversion(suffix, unit)
        if factor is None:
            raise InputError(
                f"{what} = {given!r}: unit {suffix!r} does not match, expected {unit or 'no unit'}"
            )
        number *= Decimal(repr(factor))
    return parse_number(float(number), unit, what)


def _in_unit(unit: str) -> str:
    return f" in {unit}" if unit else ""


def format_number(value: float) -> str:
    """The shortest text that reads back as the same value to nine digits, without exponent."""
    text = f"{value:.9g}"
    if "e" in text:
        text = f"{Decimal(text):f}"
    return "0" if text == "-0" else text


def with_unit(value: float | str, unit: str) -> str:
    """A value as it is shown to people: `5100 MHz`, `51x`, `auto`."""
    if isinstance(value, str):
        return value if value.isprintable() else repr(value)
    space = "" if unit in _RATIOS else " "
    return f"{format_number(value)}{space}{unit}"
