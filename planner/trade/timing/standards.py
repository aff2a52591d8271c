"""The two standards, and what of them is fixed for every module."""

from enum import StrEnum


class Standard(StrEnum):
    """Whose rules of rounding and whose minima hold."""

    DDR4 = "DDR4"
    DDR5 = "DDR5"

    @property
    def burst_clocks(self) -> int:
        """Clocks that one burst keeps the data lines: 8 transfers in DDR4, 16 in DDR5."""
        return 4 if self is Standard.DDR4 else 8


RATES = (400.0, 20_000.0)
"""MT/s; a data rate outside is taken for a slip of the pen."""
