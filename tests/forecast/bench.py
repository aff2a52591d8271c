"""A made-up machine whose temperature and power follow no straight line: leakage feeds on heat.

    P = idle + dynamic V^2 f + leak V exp((T - 60) / 45),    T = room + R P

with V and f over stock, solved by repetition. The forecast knows none of it.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np

from planner import Study

STOCK_CLOCK, STOCK_VOLTS = 4200.0, 1.2


def heat_tables(**changes: Any) -> dict[str, Any]:
    """A clock and its voltage, a hotspot with a stop, the room, watts at the wall."""
    clock = {"name": "clock", "unit": "MHz", "low": 4000, "high": 5200, "step": 50, "stock": 4200}
    volts = {"name": "volts", "unit": "V", "low": 1.0, "high": 1.5, "step": 0.01, "stock": 1.2}
    volts |= {"harder": "down", "supports": ["clock"], "everyday": 1.45}
    readings = [
        {"name": "hotspot", "unit": "C", "stop": 95},
        {"name": "room", "unit": "C"},
        {"name": "wall", "unit": "W", "stop": 600},
    ]
    return {
        "study": {"name": "heat", "knob": "clock"},
        "knob": [clock | {"where": "live"}, volts],
        "reading": readings,
        "workload": [{"name": "loop", "minutes": 5}],
    } | changes


@dataclass(frozen=True)
class Machine:
    """What nature drew."""

    idle: float
    dynamic: float
    leak: float
    resistance: float
    """Kelvin per watt."""
    noise: float
    """Kelvin, from run to run."""

    def truth(self, clock: float, volts: float, room: float) -> tuple[float, float]:
        """Hotspot in °C and watts."""
        v, f, celsius, watts = volts / STOCK_VOLTS, clock / STOCK_CLOCK, room + 30, 0.0
        for _ in range(60):
            leakage = self.leak * v * np.exp(min((celsius - 60) / 45, 3.0))
            watts = self.idle + self.dynamic * v**2 * f + leakage
            celsius = room + self.resistance * watts
        return float(celsius), float(watts)


def machine(rng: np.random.Generator) -> Machine:
    """About 150 to 350 W, 30 to 60 K above the room at stock."""
    dynamic, idle = rng.uniform(90, 220), rng.uniform(30, 80)
    leak = dynamic * rng.uniform(0.05, 0.3)
    rise = rng.uniform(30, 55)
    return Machine(idle, dynamic, leak, rise / (idle + dynamic + leak), rng.uniform(0.3, 1.5))


def tell(
    study: Study,
    nature: Machine,
    setting: tuple[float, float],
    room: float,
    rng: np.random.Generator,
    outcome: str = "pass",
) -> None:
    """Record a run with what its sensors say."""
    celsius, watts = nature.truth(*setting, room)
    readings = {
        "hotspot": round(celsius + float(rng.normal(0, nature.noise)), 1),
        "wall": round(watts * float(rng.normal(1.08, 0.01))),
        "room": round(room, 1),
    }
    study.record(
        outcome, settings=dict(zip(("clock", "volts"), setting, strict=True)), readings=readings
    )
