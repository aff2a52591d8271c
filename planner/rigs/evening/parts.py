"""The parts of a bench that can fail, each with slack of its own.

A part fails as `planner.rigs.physics` tells, from the slack that its own knobs, voltage and heat
leave it. Cores, cache, graphics and graphics memory follow the alpha-power law of
`planner.rigs.alpha_power`, hotter with the square of their voltage and with a leakage exponential
in it; memory follows a limit that rises with its voltage and saturates, for its data rate and for
each timing in nanoseconds (common practice, no source).
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import exp
from typing import Protocol

import numpy as np

from planner.domain.knob import Value
from planner.rigs.alpha_power import AlphaPower
from planner.rigs.normal import FloatArray


@dataclass(frozen=True, slots=True)
class Standing:
    """A part at one setting in one room: all that its failing depends on."""

    means: FloatArray
    """Mean slack in each second of a run, in natural steps, shape (seconds,)."""
    noise: float
    spread: float

    def slack(self, hardness: float, seconds: int) -> FloatArray:
        """Mean slack in each second of a run, `hardness` natural steps further."""
        return self.means[:seconds] - hardness


class Part(Protocol):
    """Something that can fail."""

    @property
    def knobs(self) -> tuple[str, ...]:
        """Knobs on which it depends."""
        ...

    @property
    def group(self) -> str:
        """The group whose failure it is."""
        ...

    def standing(self, setting: Mapping[str, Value], room: float, seconds: int) -> Standing:
        """The part at a setting, the room at so many °C."""
        ...


@dataclass(frozen=True, slots=True)
class ClockPart:
    """A clock, with or without a voltage knob."""

    group: str
    clock: str
    silicon: AlphaPower
    """At its own voltage; its step is the natural one, whatever steps the knob has."""
    leak: float
    voltage: str = ""
    """The voltage knob; empty: it stands at the silicon's own."""

    @property
    def knobs(self) -> tuple[str, ...]:
        """Knobs on which it depends."""
        return (self.clock, self.voltage) if self.voltage else (self.clock,)

    def standing(self, setting: Mapping[str, Value], room: float, seconds: int) -> Standing:
        """The part at a setting, the room at so many °C."""
        volts = float(setting[self.voltage]) if self.voltage else self.silicon.volts
        silicon = replace(self.silicon.at_volts(volts, self.leak), room=room)
        hardness = (float(setting[self.clock]) - silicon.low) / silicon.step
        return Standing(silicon.slack(hardness, seconds), silicon.noise, silicon.spread)


@dataclass(frozen=True, slots=True)
class MemoryPart:
    """A data rate or a timing of memory that its voltage helps, less and less."""

    group: str
    knob: str
    rate: str
    """The data rate's knob, in MT/s."""
    voltage: str
    at_stock: float
    """Fastest rate in MT/s, or shortest time in ns, at `stock_volts` and 22 °C."""
    helped: float
    """Share by which the voltage moves that in the end."""
    stock_volts: float
    saturates: float
    """Volts over which its help falls to 1/e of what is left."""
    natural: float
    """The natural step, in MT/s or ns."""
    noise: float
    spread: float
    warmth: float
    """Natural steps lost for each kelvin of room."""

    @property
    def knobs(self) -> tuple[str, ...]:
        """Knobs on which it depends."""
        return tuple(dict.fromkeys((self.knob, self.rate, self.voltage)))

    def standing(self, setting: Mapping[str, Value], room: float, seconds: int) -> Standing:
        """The part at a setting, the room at so many °C."""
        rise = float(setting[self.voltage]) - self.stock_volts
        help_ = self.helped * (1 - exp(-rise / self.saturates))
        if self.knob == self.rate:
            slack = self.at_stock * (1 + help_) - float(setting[self.knob])
        else:
            held = float(setting[self.knob]) * 2000 / float(setting[self.rate])
            slack = held - self.at_stock * (1 - help_)
        mean = slack / self.natural - self.warmth * (room - 22.0)
        return Standing(np.full(seconds, mean), self.noise, self.spread)
