"""Nanoseconds to clocks and back.

One clock carries two transfers: n clocks last n x 2000 / r nanoseconds at r MT/s. The standards
count in whole picoseconds. With t and the clock c in ps, the fewest clocks that satisfy a minimum
time are, in whole numbers (// drops the rest),

    DDR4   (t x 1000 // c + 974) // 1000    a rest of up to 2.6 % of a clock is dropped
    DDR5   (t x 997 // c + 1000) // 1000    0.3 % of the time is dropped, then rounded up

because c itself is cut to whole picoseconds. A maximum, as the refresh interval, rounds down.

Sources: JEDEC No. 21-C, annex 4.1.2.L ("97.4 % inverse factor"), as used in coreboot and in
open controller firmware; JESD400-5 ("0.30 %"), as used in the SPD decoder of the Linux i2c tools.
"""

from fractions import Fraction
from math import ceil

from planner.domain.memory import Standard

_NAMED_IN = Fraction(100, 3)
"""MT/s: rates are multiples of it, and their names drop what follows the point (2666, 2933)."""

_ROUNDED = {2933.0: 682}
"""ps by MT/s: the one clock of JESD79-4 that is rounded, 681.8 ps, and not cut."""


def clock_ps(rate: float) -> int:
    """One clock at `rate` MT/s in whole picoseconds, the rest dropped as in the standards.

    Raises:
        ValueError: a rate that is not positive, or too high for a clock of 1 ps.
    """
    if not 0 < rate <= 2_000_000:
        raise ValueError(f"data rate = {rate:g} MT/s: expected more than 0, at most 2000000")
    return _ROUNDED.get(rate) or int(2_000_000 / true_rate(rate))


def least_clocks(time_ps: int, clock: int, standard: Standard, floor: int = 0) -> int:
    """The fewest clocks of `clock` ps that satisfy a minimum of `time_ps`, and `floor` clocks.

    Raises:
        ValueError: a time below 0, or a clock that is not positive.
    """
    _check(time_ps, clock)
    if standard is Standard.DDR4:
        return max((time_ps * 1000 // clock + 974) // 1000, floor)
    return max((time_ps * 997 // clock + 1000) // 1000, floor)


def most_clocks(time_ps: int, clock: int) -> int:
    """The most clocks of `clock` ps that stay within a maximum of `time_ps`.

    Raises:
        ValueError: a time below 0, or a clock that is not positive.
    """
    _check(time_ps, clock)
    return time_ps // clock


def nanoseconds(clocks: float, rate: float) -> float:
    """How long `clocks` last at `rate` MT/s, in ns.

    Raises:
        ValueError: a rate that is not positive.
    """
    if rate <= 0:
        raise ValueError(f"data rate = {rate:g} MT/s: expected more than 0")
    return clocks * 2000 / rate


def true_rate(rate: float) -> Fraction:
    """The rate in MT/s that a name stands for: 2666 is 2666 2/3, where the name dropped it."""
    near = round(Fraction(rate) / _NAMED_IN) * _NAMED_IN
    return near if int(near) == rate else Fraction(rate)


def same_time(clocks: int, rate: float, at: float, maximum: bool = False) -> int:
    """Clocks at `at` MT/s that last as long as `clocks` do at `rate`: never less than that.

    `maximum`: the time must not be exceeded, so never more than that.

    Raises:
        ValueError: a rate that is not positive.
    """
    if rate <= 0 or at <= 0:
        raise ValueError(f"data rates = {rate:g} and {at:g} MT/s: expected both above 0")
    exact = clocks * true_rate(at) / true_rate(rate)
    return int(exact) if maximum else ceil(exact)


def _check(time_ps: int, clock: int) -> None:
    if time_ps < 0:
        raise ValueError(f"time = {time_ps} ps: expected 0 or more")
    if clock <= 0:
        raise ValueError(f"clock = {clock} ps: expected more than 0")
