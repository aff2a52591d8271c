"""What a module says of itself, whatever the generation of its bytes."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from planner.domain.memory import Standard
from planner.trade.timing.clocks import least_clocks
from planner.trade.timing.limits import Limit, limit_of
from planner.trade.timing.timings import Timings

CLOCKS_PS = {Standard.DDR4: (400, 1600), Standard.DDR5: (200, 700)}
"""The shortest clock that is believed, in ps: 1250 to 5000 MT/s, and 2857 to 10000 MT/s."""
TIMES_PS: Mapping[str, tuple[int, int]] = {
    "tCL": (5_000, 30_000),
    "tRCD": (5_000, 30_000),
    "tRP": (5_000, 30_000),
    "tRAS": (15_000, 60_000),
    "tRC": (20_000, 90_000),
    "tWR": (5_000, 60_000),
    "tRFC": (50_000, 1_500_000),
    "tFAW": (4_000, 60_000),
    "tRRD_L": (1_000, 15_000),
}
"""Times that every module tells, as they are believed, in ps."""
_OTHER_TIMES_PS = (500, 1_500_000)
_UNTOLD = ("tRTP", "tCCD_S", "tRRD_S")
"""What one of the layouts leaves to the standard."""
_LADDERS = {
    Standard.DDR4: (Fraction(400, 3), Fraction(200)),
    Standard.DDR5: (Fraction(200),),
}
"""MT/s: rates come in multiples of these."""


def told(times: Mapping[str, int]) -> dict[str, int]:
    """The times in ps without those that a module may leave at 0, and does."""
    return {name: time for name, time in times.items() if time or name in TIMES_PS}


@dataclass(frozen=True)
class Module:
    """A module as its SPD bytes describe it: minimum times, not what is set.

    Raises:
        ValueError: values that no memory has; the message names value and what was expected.
    """

    standard: Standard
    gigabits: int
    """Of one chip's die."""
    width: int
    """Data lines of one chip."""
    clock: int
    """The shortest clock, in ps."""
    latencies: tuple[int, ...]
    """Read latencies that it supports, in clocks, upwards."""
    times: Mapping[str, int]
    """By timing, the least time in ps."""
    floors: Mapping[str, int]
    """By timing, the least clocks beside that, as DDR5 bytes tell them."""
    volts: float
    """Nominal supply VDD in V."""

    def __post_init__(self) -> None:
        low, high = CLOCKS_PS[self.standard]
        if not low <= self.clock <= high:
            raise ValueError(f"shortest clock = {self.clock} ps: expected {low} to {high}")
        for name, time in self.times.items():
            least, most = TIMES_PS.get(name, _OTHER_TIMES_PS)
            if not least <= time <= most:
                raise ValueError(
                    f"{name} = {time / 1000:g} ns: expected {least / 1000:g} to {most / 1000:g}"
                )
        if self.times["tRC"] < self.times["tRAS"]:
            raise ValueError(
                f"tRC = {self.times['tRC'] / 1000:g} ns: expected at least tRAS ="
                f" {self.times['tRAS'] / 1000:g}"
            )
        least = least_clocks(self.latency_ps, self.clock, self.standard)
        if not any(n >= least for n in self.latencies):
            raise ValueError(
                f"read latencies = {list(self.latencies)} clocks: expected one that lasts tCL ="
                f" {self.latency_ps / 1000:g} ns"
            )

    @property
    def latency_ps(self) -> int:
        """The least time from read to first data, in ps."""
        return self.times["tCL"]

    @property
    def rate(self) -> int:
        """The data rate in MT/s by the name that it goes by: 2666, 4800."""
        exact = Fraction(2_000_000, self.clock)
        near = [round(exact / step) * step for step in _LADDERS[self.standard]]
        best = min(near, key=lambda rate: abs(rate - exact))
        return int(best) if abs(2_000_000 / best - self.clock) <= 1 else int(exact)

    def timings(self) -> Timings:
        """Its clocks at its own data rate: the supported latency, all else by the rounding."""
        clocks = {}
        for name in (*self.times, *_UNTOLD):
            limit = limit_of(name, self.standard, self.rate, self.width) or Limit()
            time = self.times.get(name, limit.ps)
            floor = self.floors.get(name, limit.clocks)
            clocks[name] = least_clocks(time, self.clock, self.standard, floor)
        clocks["tCL"] = min(n for n in self.latencies if n >= clocks["tCL"])
        return Timings(self.standard, self.rate, clocks)
