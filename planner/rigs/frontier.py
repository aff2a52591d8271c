"""A simulated bench with a clock and its voltage: the edge of the one along the other.

The part is that of `alpha_power`, at one voltage after another. Its heat grows with the square of
the voltage (P = C V^2 f: Patterson and Hennessy, Computer Organization and Design) and with a
leakage that grows exponentially (textbook, from memory), so that more voltage first helps the
clock, then less and less, and in the end bends the frontier back.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import Any

import numpy as np

from planner.domain.grid import Grid
from planner.domain.knob import Harder, Knob, Value, Where
from planner.errors import InputError
from planner.rigs.alpha_power import AlphaPower
from planner.rigs.families import draw_alpha_power, draw_stray, generators
from planner.rigs.one_knob import RESTART_MINUTES, RUN_MINUTES, TARGET, OneKnobRig
from planner.rigs.result import RigRun


@dataclass
class FrontierRig:
    """A clock and the voltage that supports it, both changed live and lost in a restart."""

    clock: Knob
    volts: Knob
    part: AlphaPower
    """At its own voltage, where leakage is `leak` of its heat."""
    leak: float
    stray: float
    seed: int
    draws: np.random.Generator
    downwards: bool = False
    """Whether the least voltage is searched for each clock, not the clock at each voltage."""
    _at: dict[float, OneKnobRig] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self._held = self.stock

    @property
    def stock(self) -> dict[str, Value]:
        """Both knobs at stock."""
        return {"clock": self.clock.stock, "volts": self.volts.stock}

    @property
    def definition(self) -> dict[str, Any]:
        """The tables of `study.toml` for this rig."""
        knob, along = ("volts", "clock") if self.downwards else ("clock", "volts")
        study = {"name": f"rig {self.seed}", "aim": "frontier", "knob": knob, "along": along}
        return {
            "study": {**study, "target": TARGET, "seed": self.seed},
            "rig": {"reboot_minutes": RESTART_MINUTES},
            "group": [{"name": "core"}],
            "knob": [_table(self.clock), _table(self.volts)],
            "workload": [{"name": "loop", "minutes": RUN_MINUTES}],
        }

    def at(self, volts: float) -> OneKnobRig:
        """The bench of the clock alone, at a voltage."""
        if volts not in self._at:
            part = self.part.at_volts(volts, self.leak)
            self._at[volts] = OneKnobRig(self.clock, part, self.stray, self.seed, self.draws)
        return self._at[volts]

    def run(self, settings: Mapping[str, Value]) -> RigRun:
        """One nominal run.

        Raises:
            InputError: not values of the knobs.
        """
        for knob in (self.clock, self.volts):
            if not knob.allows(settings[knob.name]):
                expected = knob.describe_values()
                raise InputError(f"{knob.name} = {settings[knob.name]}: expected {expected}")
        changed = sum(settings[name] != value for name, value in self._held.items())
        dialling = changed * self.clock.change_minutes
        run = self.at(float(settings["volts"])).attempt(float(settings["clock"]))
        self._held = dict(settings) if run.outcome == "pass" else self.stock
        return replace(run, minutes=run.minutes + dialling)

    def pass_probability(self, settings: Mapping[str, Value]) -> float:
        """Probability that a nominal run passes."""
        return self.at(float(settings["volts"])).pass_probability(float(settings["clock"]))


def frontier_rig(seed: int) -> FrontierRig:
    """A clock of 16 to 41 values along 17 or 33 voltages; the frontier lies within both ranges."""
    rng, draws = generators(seed)
    part, stray, leak = draw_alpha_power(rng), draw_stray(rng), _leak(rng)
    step = Decimal(str(rng.choice([0.0125, 0.025, 0.00625, 0.0125])))
    count = 33 if step < Decimal("0.0125") else 17
    start = Decimal(str(round(part.volts - float(rng.uniform(0.4, 0.7)) * float(step) * count, 2)))
    volts = Knob(
        "volts",
        float(start + step * int(rng.integers(count // 3, count // 2 + 1))),
        Grid(float(start), float(start + step * (count - 1)), float(step)),
        harder=Harder.DOWN,
        unit="V",
        group="core",
        supports=("clock",),
        where=Where.LIVE,
    )
    return _fitted(rng, FrontierRig(_probe(part.step), volts, part, leak, stray, seed, draws))


def _fitted(rng: np.random.Generator, rig: FrontierRig) -> FrontierRig:
    """The rig with a clock range around its frontier, and a stock clock that holds at stock."""
    grid = rig.volts.grid
    assert grid is not None
    at_stock = rig.at(float(rig.volts.stock)).edge()
    edges = [rig.at(v).edge() for v in grid.values()[:: (grid.size - 1) // 8]]
    lowest, highest = min(*edges, at_stock), max(edges)
    step = rig.part.step
    for wider in (1, 2, 2.5, 4, 5, 10):
        if (highest - lowest) / (step * wider) <= 26:
            step *= wider
            break
    low = step * (int(lowest // step) - int(rng.integers(2, 8)))
    count = int((highest - low) // step) + 1 + int(rng.integers(1, 7))
    scale = rig.part.step / step
    part = replace(
        rig.part, step=step, low=low, noise=rig.part.noise * scale, spread=rig.part.spread * scale
    )
    stock = low + step * int(rng.integers(0, max(int((at_stock - low) / step / 2), 1)))
    clock = replace(rig.clock, stock=stock, grid=Grid(low, low + step * (count - 1), step))
    return replace(rig, clock=clock, part=part, _at={})


def _leak(rng: np.random.Generator) -> float:
    return float(np.exp(rng.uniform(np.log(0.03), np.log(0.5))))


def _probe(step: float) -> Knob:
    return Knob("clock", 0.0, Grid(0.0, step, step), unit="MHz", group="core", where=Where.LIVE)


def _table(knob: Knob) -> dict[str, Any]:
    grid = knob.grid
    assert grid is not None
    table = {"name": knob.name, "unit": knob.unit, "group": "core", "low": grid.low}
    table |= {"high": grid.high, "step": grid.step, "stock": knob.stock}
    table |= {"harder": knob.harder.value, "where": knob.where.value}
    table |= {"change_minutes": knob.change_minutes, "supports": list(knob.supports)}
    return table | ({"everyday": grid.high} if knob.supports else {})
