"""The standard's minima: a time in ps and a floor in clocks, whichever is more.

DDR4 gives bank-group and activate limits by data rate and by the chip's page: half a KB in x4
chips, 1 KB in x8, 2 KB in x16. Above 3200 MT/s, outside the standard, the times of 3200 stand in.
DDR5 limits hold for x8 chips.

Sources: DDR4: component data sheets MT40A1G4 p. 344, EDY4016A p. 343, AS4C256M16D4 p. 182 for 2400,
2666 and x16; other rates from memory, and their clocks equal an independent table (ramulator2); x4
from SPD contents (36ASF8G72PZ-3G2E1: 10 ns at 3200, that is 16 clocks).
DDR5: SPD contents of a 16 Gb x8 module (AQD-D5V16GR48-SB, in the illumos libjedec tests), except
tRRD_S (JESD79-5, from memory).
"""

from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass

from planner.domain.memory import Standard
from planner.trade.timing.clocks import clock_ps, least_clocks


@dataclass(frozen=True, slots=True)
class Limit:
    """A minimum in two forms; the longer one holds."""

    ps: int = 0
    clocks: int = 0

    def at(self, rate: float, standard: Standard) -> int:
        """The fewest clocks at `rate` MT/s."""
        return least_clocks(self.ps, clock_ps(rate), standard, self.clocks)


WIDTHS = (4, 8, 16, 32)
"""Data lines of one chip."""
_RATES = (1600, 1866, 2133, 2400, 2666, 2933, 3200)
_DDR4_BY_RATE: Mapping[tuple[str, int], tuple[int, tuple[int, ...]]] = {
    ("tCCD_L", 8): (5, (6250, 5355, 5355, 5000, 5000, 5000, 5000)),
    ("tRRD_S", 8): (4, (5000, 4200, 3700, 3300, 3000, 2700, 2500)),
    ("tRRD_L", 8): (4, (6000, 5300, 5300, 4900, 4900, 4900, 4900)),
    ("tFAW", 8): (20, (25000, 23000, 21000, 21000, 21000, 21000, 21000)),
    ("tRAS", 8): (0, (35000, 34000, 33000, 32000, 32000, 32000, 32000)),
    ("tFAW", 4): (16, (10000, 10000, 10000, 10000, 10000, 10000, 10000)),
    ("tRRD_S", 16): (4, (6000, 5300, 5300, 5300, 5300, 5300, 5300)),
    ("tRRD_L", 16): (4, (7500, 6400, 6400, 6400, 6400, 6400, 6400)),
    ("tFAW", 16): (28, (35000, 30000, 30000, 30000, 30000, 30000, 30000)),
}
"""Timing and data lines of a chip: the floor in clocks, and the ps at each of the rates."""
_FIXED: Mapping[Standard, Mapping[str, Limit]] = {
    Standard.DDR4: {
        "tWR": Limit(15_000),
        "tRTP": Limit(7_500, 4),
        "tWTR_S": Limit(2_500, 2),
        "tWTR_L": Limit(7_500, 4),
        "tCCD_S": Limit(clocks=4),
    },
    Standard.DDR5: {
        "tRAS": Limit(32_000),
        "tWR": Limit(30_000),
        "tRTP": Limit(7_500, 12),
        "tWTR_S": Limit(2_500, 4),
        "tWTR_L": Limit(10_000, 16),
        "tCCD_S": Limit(clocks=8),
        "tCCD_L": Limit(5_000, 8),
        "tCCD_L_WR": Limit(20_000, 32),
        "tCCD_L_WR2": Limit(10_000, 16),
        "tRRD_S": Limit(clocks=8),
        "tRRD_L": Limit(5_000, 8),
        "tFAW": Limit(clocks=32),
    },
}


def limit_of(name: str, standard: Standard, rate: float, width: int = 8) -> Limit | None:
    """The standard's minimum of a timing at `rate` MT/s; None where it gives none of its own.

    `width`: data lines of one chip.

    Raises:
        ValueError: a width that no chip has.
    """
    if width not in WIDTHS:
        raise ValueError(f"chips of {width} data lines: expected one of {WIDTHS}")
    if standard is Standard.DDR4:
        key = (name, min(width, 16))
        found = _DDR4_BY_RATE.get(key) or _DDR4_BY_RATE.get((name, 8))
        if found:
            floor, times = found
            return Limit(times[max(bisect_right(_RATES, rate) - 1, 0)], floor)
    return _FIXED[standard].get(name)
