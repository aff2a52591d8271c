"""What a branch circuit leaves for a bench.

Volts times the rating is the most that a circuit is made for. Where a load lasts three hours or
more, US practice leaves a fifth of the rating free: NFPA 70 (NEC) 210.20(A) asks for an overcurrent
device of 125 % of the continuous load, which is the same as a load of 80 % of the device. IEC and
BS 7671 practice has no such rule (433.1.1 asks that the design current stay at or under the
rating), but hours at full load warm plugs, sockets and breakers: the same fifth is kept free there
as a caution, without a standard behind it.

Other loads on the circuit count whatever the code. Watts are true power; with a power factor below
1 the current is larger than watts over volts. A supply of efficiency e takes D / e from the wall
for D watts of direct current, and turns the rest into heat; e depends on the load and is the
maker's figure, none is assumed here.
"""

from planner.domain.mains import Mains

CONTINUOUS_HOURS = 3.0
"""A load that lasts so long is continuous (NEC art. 100)."""
CONTINUOUS_SHARE = 0.8
"""Of the rating, left for a continuous load."""


def amps_left(mains: Mains, continuous: bool) -> float:
    """Amperes for the bench; below 0 where the other loads are too many."""
    share = CONTINUOUS_SHARE if continuous else 1.0
    return mains.amps * share - mains.other_watts / mains.volts


def watts_left(mains: Mains, continuous: bool) -> float:
    """Watts at the wall for the bench; below 0 where the other loads are too many."""
    return amps_left(mains, continuous) * mains.volts * mains.power_factor


def amps_drawn(mains: Mains, watts: float) -> float:
    """Amperes that the bench draws at so many watts at the wall."""
    return watts / (mains.volts * mains.power_factor)


def wall_watts(direct: float, efficiency: float) -> float:
    """Watts at the wall for so many watts of direct current."""
    return direct / efficiency


def direct_watts(wall: float, efficiency: float) -> float:
    """Watts of direct current from so many at the wall."""
    return wall * efficiency
