"""What a branch circuit leaves for a bench.

Volts times the rating is the most that a circuit is made for. Where a load lasts three hours or
more, US practice leaves a fifth of the rating free: NFPA 70 (NEC) 210.20(A) asks for an overcurrent
device of 125 % of the continuous load, which is the same as a load of 80 % of the device. IEC and
BS 7671 practice has no such rule (433.1.1 asks that the design current stay at or under the
rating), but hours at full load warm plugs, sockets and breakers: the same fifth is kept free there
as a caution, without a standard behind it.

Other loads on the circuit count whatever the code. Watts are true power; with a power factor below
1 the current is larger than watts over volts.
"""

from dataclasses import dataclass

CONTINUOUS_HOURS = 3.0
"""A load that lasts so long is continuous (NEC art. 100)."""
CONTINUOUS_SHARE = 0.8
"""Of the rating, left for a continuous load."""


@dataclass(frozen=True, slots=True)
class Circuit:
    """A branch circuit and what else hangs on it.

    Raises:
        ValueError: volts, amps or power factor that cannot be, or other loads below 0.
    """

    volts: float
    amps: float
    """Rating of the breaker or fuse."""
    other_watts: float = 0.0
    """What else draws from the circuit, at the same time."""
    power_factor: float = 1.0
    """True over apparent power of the bench's supply."""

    def __post_init__(self) -> None:
        if not 50 <= self.volts <= 500:
            raise ValueError(f"volts = {self.volts:g}: expected 50 to 500")
        if not 0 < self.amps <= 200:
            raise ValueError(f"amps = {self.amps:g}: expected above 0 and at most 200")
        if self.other_watts < 0:
            raise ValueError(f"other_watts = {self.other_watts:g}: expected 0 or more")
        if not 0.5 <= self.power_factor <= 1:
            raise ValueError(f"power_factor = {self.power_factor:g}: expected 0.5 to 1")

    def amps_left(self, continuous: bool) -> float:
        """Amperes for the bench; below 0 where the other loads are too many."""
        share = CONTINUOUS_SHARE if continuous else 1.0
        return self.amps * share - self.other_watts / self.volts

    def watts_left(self, continuous: bool) -> float:
        """Watts at the wall for the bench; below 0 where the other loads are too many."""
        return self.amps_left(continuous) * self.volts * self.power_factor

    def amps_of(self, watts: float) -> float:
        """Amperes that the bench draws at so many watts at the wall."""
        return watts / (self.volts * self.power_factor)
