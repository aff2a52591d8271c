"""Families of one-knob rigs, drawn from a seed: the same seed gives the same rig and evening.

Noise, spread and the place of the edge are in steps of the knob, and mean the same in every
family but `fine`, whose steps are 3 to 10 times finer than its edge is wide.
"""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

import numpy as np

from planner.domain.grid import Grid
from planner.domain.knob import Harder, Knob, Where
from planner.rigs.alpha_power import AlphaPower
from planner.rigs.one_knob import OneKnobRig
from planner.rigs.slack import Slack

Family = Callable[[int], OneKnobRig]


def slack_rig(seed: int) -> OneKnobRig:
    """13 to 41 values, the edge anywhere between the stock value and the hardest one."""
    rng, draws = generators(seed)
    knob = _knob(rng, int(rng.integers(13, 42)))
    edge = rng.uniform(_stock_index(knob), len(knob.values) - 1)
    return _slack_rig(knob, _slack(rng), draw_stray(rng), edge, draws, seed)


def fine_rig(seed: int) -> OneKnobRig:
    """100 to 400 values, steps 3 to 10 times finer than the noise that makes the edge's width."""
    rng, draws = generators(seed)
    knob = _knob(rng, int(rng.integers(100, 401)))
    edge = rng.uniform(_stock_index(knob), len(knob.values) - 1)
    noise = float(np.exp(rng.uniform(np.log(3), np.log(10))))
    physics = Slack(0.0, noise, noise * rng.uniform(0.1, 0.4))
    return _slack_rig(knob, physics, draw_stray(rng), edge, draws, seed)


def beyond_rig(seed: int) -> OneKnobRig:
    """The edge lies up to 4 steps past the hardest value, or before the easiest one."""
    rng, draws = generators(seed)
    knob = _knob(rng, int(rng.integers(13, 42)))
    past = rng.uniform(0.25, 4.0)
    edge = len(knob.values) - 1 + past if rng.random() < 0.5 else -past
    return _slack_rig(knob, _slack(rng), draw_stray(rng), edge, draws, seed)


def unsound_stock_rig(seed: int) -> OneKnobRig:
    """The stock value does not hold, an easier one does."""
    rng, draws = generators(seed)
    knob = _knob(rng, int(rng.integers(13, 42)), first_stock=1)
    edge = rng.uniform(0.0, _stock_index(knob) - 0.25)
    return _slack_rig(knob, _slack(rng), draw_stray(rng), edge, draws, seed)


def alpha_power_rig(seed: int) -> OneKnobRig:
    """A clock, 13 to 41 values, against a part that warms up while it runs."""
    rng, draws = generators(seed)
    count = int(rng.integers(13, 42))
    stock = int(rng.integers(0, (count - 1) // 3 + 1))
    physics, stray = draw_alpha_power(rng), draw_stray(rng)
    step = round(physics.step)
    probe = _made(Decimal(0), Decimal(step), count, stock, Harder.UP)
    fastest = OneKnobRig(probe, physics, stray, seed, draws).edge()
    # Only whole steps move the range, so the edge keeps the place between steps where it fell.
    low = step * (int(fastest // step) - int(rng.integers(stock, count - 1)))
    knob = _made(Decimal(low), Decimal(step), count, stock, Harder.UP)
    return OneKnobRig(knob, replace(physics, low=float(low)), stray, seed, draws)


FAMILIES: dict[str, Family] = {
    "slack": slack_rig,
    "alpha-power": alpha_power_rig,
    "fine": fine_rig,
    "beyond": beyond_rig,
    "unsound-stock": unsound_stock_rig,
}
"""All families by name."""


def generators(seed: int) -> tuple[np.random.Generator, np.random.Generator]:
    """One generator for what the rig is, one for what happens on it."""
    rig, evening = np.random.SeedSequence(seed).spawn(2)
    return np.random.default_rng(rig), np.random.default_rng(evening)


def _knob(rng: np.random.Generator, count: int, first_stock: int = 0) -> Knob:
    """A knob of random scale and direction, its stock value in the easier third."""
    step = Decimal(int(rng.choice([1, 2, 5, 25]))).scaleb(int(rng.integers(-4, 3)))
    low = step * int(rng.integers(0, 400))
    stock = int(rng.integers(first_stock, (count - 1) // 3 + 1))
    harder = Harder.UP if rng.random() < 0.5 else Harder.DOWN
    return _made(low, step, count, stock, harder)


def _made(low: Decimal, step: Decimal, count: int, stock: int, harder: Harder) -> Knob:
    grid = Grid(float(low), float(low + step * (count - 1)), float(step))
    index = stock if harder is Harder.UP else count - 1 - stock
    return Knob("knob", grid.value(index), grid, harder=harder, where=Where.LIVE, group="core")


def draw_stray(rng: np.random.Generator) -> float:
    """Share of nominal runs that crash without the setting's doing."""
    return rng.uniform(0.01, 0.02)


def _noise(rng: np.random.Generator) -> float:
    return float(np.exp(rng.uniform(np.log(0.1), np.log(0.8))))


def _slack(rng: np.random.Generator) -> Slack:
    return Slack(0.0, _noise(rng), rng.uniform(0.1, 0.4))


def _slack_rig(
    knob: Knob, physics: Slack, stray: float, edge: float, draws: np.random.Generator, seed: int
) -> OneKnobRig:
    """The rig, its mean slack chosen so that the edge lies at a hardness of `edge`."""
    unmoved = OneKnobRig(knob, physics, stray, seed, draws)
    zero = edge - knob.hardness(unmoved.edge())
    return replace(unmoved, physics=replace(physics, zero=zero))


def draw_alpha_power(rng: np.random.Generator) -> AlphaPower:
    """A part of about 1 to 5 GHz with steps of about 0.3 to 1 %, in MHz."""
    scale = float(np.exp(rng.uniform(np.log(1500), np.log(7000))))
    wanted = scale * rng.uniform(0.002, 0.007)
    return AlphaPower(
        scale=scale,
        volts=rng.uniform(0.95, 1.3),
        threshold_volts=rng.uniform(0.28, 0.4),
        exponent=rng.uniform(1.2, 1.5),
        at_once=rng.uniform(15, 45),
        rise=rng.uniform(4, 20),
        tau_s=rng.uniform(20, 90),
        low=0.0,
        step=min((5.0, 10.0, 20.0, 25.0, 50.0), key=lambda step: abs(step - wanted)),
        noise=_noise(rng),
        spread=rng.uniform(0.1, 0.4),
    )


def _stock_index(knob: Knob) -> int:
    return knob.values.index(knob.stock)
