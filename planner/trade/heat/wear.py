"""By how much heat and voltage hasten wear: the usual models, each as a ratio to a reference.

- Heat (Arrhenius): exp(E / k (1 / T1 - 1 / T2)), activation energy E in eV, temperatures in kelvin.
- Voltage: exp(g dV) with g per volt, or (V2 / V1)^n.

Which form holds, and E, g and n, differ by process and by what wears out: the figures below span
what is published for silicon. They say how steep wear may be, never how long a part lasts.

Sources: forms of JEP122 and JESD85; NIST/SEMATECH e-Handbook 8.1.5.1 (Arrhenius); all from memory.
"""

from math import exp

BOLTZMANN = 8.617333262e-5
"""eV/K (CODATA 2018)."""
ZERO_CELSIUS = 273.15
"""K."""
ENERGY = 0.7
"""eV: a usual activation energy of silicon's wear (JESD85, from memory)."""
MILD, STEEP = 3.0, 40.0
"""Per volt, of the exponential form; exponent of the power form (from memory)."""


def heat_factor(cool: float, hot: float, energy: float = ENERGY) -> float:
    """How many times as fast it wears at `hot` as at `cool`, in °C; `energy` in eV.

    Raises:
        ValueError: a temperature at or below absolute zero.
    """
    kelvins = [celsius + ZERO_CELSIUS for celsius in (cool, hot)]
    if min(kelvins) <= 0:
        raise ValueError(f"{min(cool, hot):g} C: expected more than {-ZERO_CELSIUS} C")
    return exp(energy / BOLTZMANN * (1 / kelvins[0] - 1 / kelvins[1]))


def exponential_factor(rise: float, per_volt: float = MILD) -> float:
    """How many times as fast it wears `rise` volts higher, by the exponential form."""
    return exp(per_volt * rise)


def power_factor(low: float, high: float, exponent: float = STEEP) -> float:
    """How many times as fast it wears at `high` volts as at `low`, by the power form.

    Raises:
        ValueError: a voltage that is not positive.
    """
    if min(low, high) <= 0:
        raise ValueError(f"{min(low, high):g} V: expected more than 0 V")
    return float((high / low) ** exponent)
