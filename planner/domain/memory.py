"""The standards of memory modules that are told apart."""

from enum import StrEnum


class Standard(StrEnum):
    """Whose rules of rounding and whose minima hold."""

    DDR4 = "DDR4"
    DDR5 = "DDR5"

    @property
    def burst_clocks(self) -> int:
        """Clocks that one burst keeps the data lines: 8 transfers in DDR4, 16 in DDR5."""
        return 4 if self is Standard.DDR4 else 8
