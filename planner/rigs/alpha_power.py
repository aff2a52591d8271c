"""A clock against the speed that transistors have at their voltage and temperature.

The clock that a path can follow is

    f(V, T) = f0 (V - Vt(T))^a / V (T / 298 K)^-m,    Vt(T) = Vt - c (T - 298 K)

(alpha-power law: Sakurai and Newton 1990, the exponent `a` between 1, saturated, and 2; falling
threshold and mobility with temperature: textbook, from memory; `m` below the 1.5 of slow carriers,
because fast ones are bound by their top speed, which falls less). Under load the part is hotter
than the room by `at_once x clock / f0` (the die itself), and warms further by `rise x clock / f0`
(what cools it) as a first-order step with time constant `tau` (JESD51 form). So the end of a run is
harder than its start, and more so at a higher clock.
"""

from dataclasses import dataclass, replace
from math import exp

import numpy as np

from planner.rigs.normal import FloatArray
from planner.trade.heat.silicon import drive

KELVIN = 273.15
_LEAK_VOLTS = 0.06
"""Leakage grows e-fold over so many volts."""
_REFERENCE = 298.15


@dataclass(frozen=True, slots=True)
class AlphaPower:
    """A rig whose knob is the clock; clocks in the unit of `scale`, temperatures in °C."""

    scale: float
    """`f0`: sets the unit of the clock."""
    volts: float
    threshold_volts: float
    exponent: float
    at_once: float
    """Kelvin above the room from the first second on, at a clock of `scale`."""
    rise: float
    """Kelvin added in the long run, at a clock of `scale`."""
    tau_s: float
    low: float
    """Clock at hardness 0."""
    step: float
    noise: float
    spread: float
    room: float = 22.0
    mobility: float = 0.8
    threshold_per_kelvin: float = 0.0008

    def fastest(self, celsius: FloatArray) -> FloatArray:
        """The clock that the part can follow at these temperatures."""
        kelvin = celsius + KELVIN
        threshold = self.threshold_volts - self.threshold_per_kelvin * (kelvin - _REFERENCE)
        speed = drive(self.volts, threshold, self.exponent)
        return self.scale * speed * (kelvin / _REFERENCE) ** -self.mobility

    def at_volts(self, volts: float, leak: float) -> "AlphaPower":
        """The part at another voltage; `leak` is leakage's share of its heat at its own.

        Heat grows with the square of the voltage, leakage exponentially (textbook, from memory).
        """
        leaking = 1 + leak * (exp((volts - self.volts) / _LEAK_VOLTS) - 1)
        heat = (volts / self.volts) ** 2 * leaking
        at_once, rise = self.at_once * heat, self.rise * heat
        return replace(self, volts=volts, at_once=at_once, rise=rise)

    def celsius(self, clock: float, seconds: FloatArray) -> FloatArray:
        """Temperature so many seconds into a run at `clock`."""
        warmed = 1 - np.exp(-seconds / self.tau_s)
        return self.room + (self.at_once + self.rise * warmed) * clock / self.scale

    def slack(self, hardness: float, seconds: int) -> FloatArray:
        """Mean slack in each second, in steps."""
        clock = self.low + hardness * self.step
        celsius = self.celsius(clock, np.arange(1.0, seconds + 1))
        return (self.fastest(celsius) - clock) / self.step
