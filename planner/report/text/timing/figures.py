"""Figures as the sentences write them."""

from planner.domain.quantity import format_number
from planner.trade.timing.clocks import nanoseconds


def ns(value: float) -> str:
    """Nanoseconds to four digits, microseconds from 1000 ns on: `13.75 ns`, `7.8 us`."""
    if value >= 999.95:
        return f"{format_number(float(f'{value / 1000:.3g}'))} us"
    return f"{format_number(float(f'{value:.4g}'))} ns"


def clocks(count: int, rate: float) -> str:
    """Clocks with what they last: `30 clocks (10 ns)`."""
    return f"{count} clock{'' if count == 1 else 's'} ({ns(nanoseconds(count, rate))})"


def at(name: str, count: int) -> str:
    """A timing with its clocks, never parted at a line's end: `tRAS 76`."""
    return f"{name}\N{NO-BREAK SPACE}{count}"


def listed(parts: list[str]) -> str:
    """The parts as prose: `a, b and c`."""
    return " and ".join([", ".join(parts[:-1]), parts[-1]] if len(parts) > 1 else parts)
