"""Benches drawn from a seed: the same seed gives the same bench and evening.

Nine knobs in five groups: cores and cache on one voltage, memory with data rate, two timings and
a voltage, graphics, graphics memory. Where each edge lies in its knob's range, and what each knob
is worth, is drawn anew for each bench.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

import numpy as np

from planner.domain.ceilings import Ceilings
from planner.domain.grid import Grid
from planner.domain.knob import Harder, Knob, Where
from planner.rigs.alpha_power import AlphaPower
from planner.rigs.evening.parts import ClockPart, MemoryPart, Part
from planner.rigs.evening.rig import Bench, EveningRig, Starting
from planner.rigs.evening.score import Replay, Scoring
from planner.rigs.families import generators

SECONDS = 180


@dataclass(frozen=True, slots=True)
class Kind:
    """How a family of benches differs from the usual one."""

    wider: float = 1.0
    """How many times as wide every range of a harder knob is, from stock on."""
    finer: int = 1
    """How many times as fine every step of a harder knob is."""
    even: bool = False
    """Whether no knob is worth much more than another, and names and order are shuffled."""


@dataclass(frozen=True, slots=True)
class _Clock:
    """A clock to draw: where stock lies, its natural step, how far the range goes."""

    name: str
    group: str
    unit: str
    stock: float
    step: float
    reach: int
    """Natural steps from stock to the end of the range."""
    where: Where


_CLOCKS = (
    _Clock("core_clock", "core", "MHz", 4800.0, 25.0, 36, Where.FIRMWARE),
    _Clock("cache_clock", "cache", "MHz", 4200.0, 50.0, 18, Where.FIRMWARE),
    _Clock("graphics_clock", "graphics", "MHz", 2500.0, 15.0, 28, Where.LIVE),
    _Clock("graphics_memory", "graphics memory", "MHz", 2400.0, 15.0, 24, Where.LIVE),
)
_RATE = _Clock("memory_rate", "memory", "MT/s", 6000.0, 100.0, 20, Where.FIRMWARE)
_TIMINGS = (("cas_latency", 36, 12), ("row_to_column", 38, 14))
"""Name, stock clocks, and how many clocks the range reaches down."""


def evening_rig(seed: int, kind: Kind = Kind()) -> EveningRig:
    """A bench of nine knobs."""
    rng, draws = generators(seed)
    volts = _voltage("core_voltage", 1.20, 0.01, int(rng.integers(8, 15)), 20, "core")
    memory_volts = _voltage("memory_voltage", 1.30, 0.01, int(rng.integers(8, 16)), 24, "memory")
    parts: list[Part] = []
    knobs: dict[str, Knob] = {volts.name: volts, memory_volts.name: memory_volts}
    for clock in _CLOCKS:
        supported = volts if clock.group in ("core", "cache") else None
        knobs[clock.name] = _knob(clock, kind)
        parts.append(_clock_part(rng, clock, supported))
    parts += _memory(rng, knobs, memory_volts, kind)
    knobs = _supporting(knobs)
    scoring = _scoring(rng, knobs, parts, kind)
    starting = {
        "memory": Starting(rng.uniform(1.5, 4.0), rng.uniform(0.3, 0.8)),
        "core": Starting(rng.uniform(5.0, 10.0), rng.uniform(0.3, 0.8)),
    }
    bench = Bench(stray=rng.uniform(0.01, 0.02), score_noise=rng.uniform(0.001, 0.003))
    groups = ("core", "cache", "memory", "graphics", "graphics memory")
    rig = EveningRig(
        _ordered(knobs, rng, kind), groups, tuple(parts), starting, scoring, bench, seed, draws
    )
    return rig


def _knob(clock: _Clock, kind: Kind) -> Knob:
    step = float(round(clock.step / kind.finer))
    count = round(clock.reach * kind.wider * clock.step / step)
    low = clock.stock - 4 * kind.finer * step
    high = clock.stock + count * step
    grid = Grid(low, high, step)
    return Knob(
        clock.name, clock.stock, grid, unit=clock.unit, group=clock.group, where=clock.where
    )


def _voltage(name: str, stock: float, step: float, room: int, reach: int, group: str) -> Knob:
    """A support: proposals may rise `room` steps above stock."""
    low, high = Decimal(str(stock)) - 5 * Decimal(str(step)), Decimal(str(stock))
    high += reach * Decimal(str(step))
    everyday = float(Decimal(str(stock)) + room * Decimal(str(step)))
    grid = Grid(float(low), float(high), step)
    return Knob(
        name,
        stock,
        grid,
        harder=Harder.DOWN,
        unit="V",
        group=group,
        ceilings=Ceilings(everyday=everyday),
    )


def _supporting(knobs: Mapping[str, Knob]) -> dict[str, Knob]:
    named = {
        "core_voltage": ("core_clock", "cache_clock"),
        "memory_voltage": ("memory_rate", *(name for name, _, _ in _TIMINGS)),
    }
    return {n: replace(k, supports=named[n]) if n in named else k for n, k in knobs.items()}


def _clock_part(rng: np.random.Generator, clock: _Clock, voltage: Knob | None) -> ClockPart:
    """A part whose edge at stock voltage lies somewhere in its range."""
    volts = 1.05 if voltage is None else float(voltage.stock)
    silicon = AlphaPower(
        scale=clock.stock * 1.6,
        volts=volts,
        threshold_volts=rng.uniform(0.30, 0.40),
        exponent=rng.uniform(1.2, 1.45),
        at_once=rng.uniform(20, 45),
        rise=rng.uniform(3, 12),
        tau_s=rng.uniform(20, 90),
        low=clock.stock,
        step=clock.step,
        noise=float(np.exp(rng.uniform(np.log(0.1), np.log(0.5)))),
        spread=rng.uniform(0.1, 0.4),
        room=21.0,
    )
    # At a supported clock the voltage adds about as much again.
    where = rng.uniform(0.12, 0.5) if voltage else rng.uniform(0.3, 0.8)
    wanted = clock.stock + where * clock.reach * clock.step
    for _ in range(8):
        slack = (wanted - clock.stock) / clock.step
        found = float(silicon.slack(slack, SECONDS)[-1])
        silicon = replace(silicon, scale=silicon.scale * (1 - found * clock.step / wanted))
    return ClockPart(
        clock.group,
        clock.name,
        silicon,
        float(np.exp(rng.uniform(np.log(0.03), np.log(0.3)))),
        voltage.name if voltage else "",
    )


def _memory(
    rng: np.random.Generator, knobs: dict[str, Knob], voltage: Knob, kind: Kind
) -> list[Part]:
    """The data rate and the timings; adds their knobs."""
    knobs[_RATE.name] = _knob(_RATE, kind)
    found: list[Part] = []
    natural = 2000 / _RATE.stock
    wanted = {_RATE.name: _RATE.stock + rng.uniform(0.2, 0.6) * _RATE.reach * _RATE.step}
    for name, stock, reach in _TIMINGS:
        step = 1.0
        knobs[name] = Knob(
            name,
            float(stock),
            Grid(float(stock - round(reach * min(kind.wider, 2.0))), float(stock + 6), step),
            harder=Harder.DOWN,
            unit="clocks",
            group="memory",
        )
        wanted[name] = (stock - rng.uniform(0.2, 0.6) * reach) * natural
    for name, limit in wanted.items():
        rate = name == _RATE.name
        found.append(
            MemoryPart(
                "memory",
                name,
                _RATE.name,
                voltage.name,
                at_stock=limit,
                helped=rng.uniform(0.05, 0.12) if rate else rng.uniform(0.06, 0.15),
                stock_volts=float(voltage.stock),
                saturates=rng.uniform(0.05, 0.12),
                natural=_RATE.step if rate else natural,
                noise=float(np.exp(rng.uniform(np.log(0.1), np.log(0.5)))),
                spread=rng.uniform(0.1, 0.4),
                warmth=rng.uniform(0.0, 0.1),
            )
        )
    return found


def _scoring(
    rng: np.random.Generator, knobs: Mapping[str, Knob], parts: list[Part], kind: Kind
) -> Scoring:
    names = tuple(name for name, _, _ in _TIMINGS)
    pulls = {
        "shade": {"graphics_clock": 0.7, "graphics_memory": 0.3, "core_clock": 0.05},
        "pack": {"core_clock": 0.65, "cache_clock": 0.2, _RATE.name: 0.08},
        "solve": {"core_clock": 0.3, _RATE.name: 0.15, "cas_latency": -0.2, "row_to_column": -0.15},
    }
    if kind.even:
        pulls = {name: _levelled(row, knobs) for name, row in pulls.items()}
    drawn = {
        sub: {knob: power * float(np.exp(rng.normal(0, 0.35))) for knob, power in row.items()}
        for sub, row in pulls.items()
    }
    part = next(p for p in parts if p.knobs[0] == "graphics_memory")
    assert isinstance(part, ClockPart)
    edge = part.silicon.low + part.silicon.step * float(
        part.standing({"graphics_memory": part.silicon.low}, 21.0, SECONDS).means[-1]
    )
    starts = edge - rng.uniform(0.0, 6.0) * part.silicon.step
    weights = dict(zip(pulls, rng.dirichlet([6.0, 6.0, 6.0]).tolist(), strict=True))
    return Scoring(
        bases={sub: float(rng.uniform(80, 400)) for sub in pulls},
        elasticities=drawn,
        weights=weights,
        stock={name: knob.stock for name, knob in knobs.items()},
        replay=Replay("graphics_memory", starts, part.silicon.step, rng.uniform(0.01, 0.03)),
        rate=_RATE.name,
        timings=names,
        warmth=rng.uniform(0.0, 0.0005),
    )


def _levelled(row: Mapping[str, float], knobs: Mapping[str, Knob]) -> dict[str, float]:
    """Powers under which each knob of a row gains alike over its range."""
    levelled = {}
    for name in row:
        knob = knobs[name]
        assert not isinstance(knob.stock, str)
        hardest = knob.values[-1]
        assert not isinstance(hardest, str)
        reach = abs(float(np.log(hardest / knob.stock)))
        levelled[name] = float(np.sign(row[name])) * 0.06 / reach
    return levelled


def _ordered(knobs: Mapping[str, Knob], rng: np.random.Generator, kind: Kind) -> dict[str, Knob]:
    order = [name for clock in (*_CLOCKS, _RATE) for name in [clock.name]]
    order += [name for name in knobs if name not in order]
    if kind.even:
        order = [order[i] for i in rng.permutation(len(order))]
    return {name: knobs[name] for name in order}
