"""A set of timings: a standard, a data rate, and clocks by name."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from planner.domain.memory import Standard
from planner.trade.timing.clocks import clock_ps, nanoseconds, same_time
from planner.trade.timing.limits import limit_of
from planner.trade.timing.names import TIMINGS

RATES = (400.0, 20_000.0)
"""MT/s; a data rate outside is taken for a slip of the pen."""
MOST_CLOCKS = 1_000_000
"""More clocks than this is taken for a slip of the pen; tREFI is seldom above 65535."""


@dataclass(frozen=True, slots=True)
class Timings:
    """Timings as they are set.

    Raises:
        ValueError: a data rate or a count of clocks that no memory has, or an unknown name.
    """

    standard: Standard
    rate: float
    """MT/s."""
    clocks: Mapping[str, int]
    """By the name in the standard, in the order of the table of timings."""

    def __post_init__(self) -> None:
        if not RATES[0] <= self.rate <= RATES[1]:
            raise ValueError(
                f"data rate = {self.rate:g} MT/s: expected {RATES[0]:g} to {RATES[1]:g}"
            )
        for name, clocks in self.clocks.items():
            if name not in TIMINGS:
                raise ValueError(f"{name}: no timing known, expected one of {', '.join(TIMINGS)}")
            if not 1 <= clocks <= MOST_CLOCKS:
                raise ValueError(f"{name} = {clocks}: expected 1 to {MOST_CLOCKS} clocks")
        ordered = {name: self.clocks[name] for name in TIMINGS if name in self.clocks}
        object.__setattr__(self, "clocks", ordered)

    @property
    def clock_ps(self) -> int:
        """One clock in whole ps, as the standard counts."""
        return clock_ps(self.rate)

    def ns(self, name: str) -> float:
        """How long a timing lasts, in ns."""
        return nanoseconds(self.clocks[name], self.rate)

    def at(self, rate: float) -> "Timings":
        """The same nanoseconds at another data rate; plain counts of clocks stay.

        DDR5 has even read latencies only, so tCL rounds up to one (JESD400-5).

        Raises:
            ValueError: a data rate that no memory has.
        """
        clocks = {}
        for name, count in self.clocks.items():
            timing = TIMINGS[name]
            moved = same_time(count, self.rate, rate, timing.is_maximum) if rate > 0 else count
            if name == "tCL" and self.standard is Standard.DDR5 and count % 2 == 0:
                moved += moved % 2
            clocks[name] = max(moved, 1) if timing.is_time else count
        return Timings(self.standard, rate, clocks)

    def below_standard(self, width: int = 8) -> Iterator[tuple[str, int]]:
        """Timings under the standard's minimum at this rate, each with that minimum in clocks."""
        for name, count in self.clocks.items():
            limit = limit_of(name, self.standard, self.rate, width)
            if limit is not None and count < (least := limit.at(self.rate, self.standard)):
                yield name, least
