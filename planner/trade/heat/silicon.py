"""Speed and power of switching silicon.

- Alpha-power law: a path can follow a clock in proportion to (V - Vt)^a / V, with supply voltage V
  and threshold Vt in volts; the exponent `a` lies between 1 (carriers at top speed) and 2.
- Switching power: P = C V^2 f, capacitance times supply voltage squared times clock.

Sources: Sakurai and Newton, IEEE J. Solid-State Circuits 25 (1990) 584 (alpha-power law); Patterson
and Hennessy, Computer Organization and Design, sec. 1.7 (power), from memory both.
"""

from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

N = TypeVar("N", "float", "NDArray[np.float64]")


def drive(volts: float, threshold: N, exponent: float) -> N:
    """Speed at a supply voltage, up to a factor: (V - Vt)^a / V."""
    over: N = volts - threshold
    speed: N = over**exponent / volts
    return speed


def elasticity(volts: float, threshold: float = 0.35, exponent: float = 1.3) -> float:
    """By how many per cent the speed rises with the voltage's next one: a V / (V - Vt) - 1.

    The usual threshold and exponent are from memory.

    Raises:
        ValueError: a voltage at or below the threshold.
    """
    if volts <= threshold:
        raise ValueError(f"{volts:g} V: expected more than the threshold, {threshold:g} V")
    return exponent * volts / (volts - threshold) - 1


def power_ratio(volts: float, clock: float, capacitance: float = 1.0) -> float:
    """Switching power, each argument as a ratio to a reference: C V^2 f."""
    return capacitance * volts**2 * clock
