"""Speed bins: the timings that the standard sells a data rate with.

A bin is named by its clocks tCL-tRCD-tRP; tRC is tRAS + tRP. Every tuned module is outside its
bin, so a bin is something to compare with, never a limit.

Sources: DDR4: component data sheet MT40A1G4, p. 331 and 333, and AS4C256M16D4 p. 181; 3200 from
SPD contents of MTA4ATF51264HZ-3G2E1. DDR5: SPD contents of AQD-D5V16GR48-SB and of
MTC40F2046S1RC48BA1. Rates without a source are left out.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.domain.memory import Standard


@dataclass(frozen=True, slots=True)
class Bin:
    """One bin: clocks at its data rate, and the times behind them."""

    cl: int
    rcd: int
    rp: int
    aa_ps: int
    """The least time from read to first data, in ps."""

    @property
    def clocks(self) -> str:
        """As it is written: `22-22-22`."""
        return f"{self.cl}-{self.rcd}-{self.rp}"


def _even(cl: int, aa_ps: int) -> Bin:
    return Bin(cl, cl, cl, aa_ps)


BINS: Mapping[Standard, Mapping[int, tuple[Bin, ...]]] = {
    Standard.DDR4: {
        1866: (_even(12, 12_850), _even(13, 13_920), _even(14, 15_000)),
        2400: (_even(15, 12_500), _even(16, 13_320), _even(17, 14_160)),
        2666: (_even(19, 14_250),),
        3200: (_even(22, 13_750),),
    },
    Standard.DDR5: {4800: (Bin(40, 39, 39, 16_000),)},
}
"""By data rate in MT/s, the fastest first."""
FASTEST_BINNED = {Standard.DDR4: 3200, Standard.DDR5: 8800}
"""MT/s of the standard's last bin (JESD79-4; DDR5 from memory): beyond it there is none."""
