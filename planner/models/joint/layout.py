"""What can fail, and in which coordinate: each harder knob is a risk, each support moves some.

A risk's coordinate is in spans of its knob's range, 0 at the easiest value and 1 at the hardest.
It is measured in what the part feels: a timing in nanoseconds (clocks x 2000 / data rate), so that
a higher data rate tightens every timing whose count stands still; a ratio by the derived clock
that it makes with a base clock. A support's coordinate is the log of its value against stock, in
units of what its everyday ceiling allows.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import log

import numpy as np

from planner.domain.definition import Definition
from planner.domain.knob import Harder, Knob, Value, Where
from planner.domain.quantity import conversion
from planner.models.hazard import Array
from planner.trade.heat.silicon import elasticity
from planner.trade.timing.names import stays_in_clocks

_HEAT = 0.25
"""Of what the voltage gains, lost to the heat that it makes (common practice, no source)."""
_LEAST_VOLTS = 0.5
"""Less is an offset, or no part's supply."""
_OTHER_SUPPORT = 0.6
"""Elasticity under supports that are no voltage."""
_LEAST_WAY = 0.05
"""Spans that are left to a knob whose stock value is its hardest."""


@dataclass(frozen=True)
class Support:
    """A knob that moves the edges of others."""

    knob: Knob
    stock: float
    unit: float
    """Log of the everyday ceiling's value against stock."""

    def coordinates(self, settings: "Settings") -> Array:
        """0 at stock, 1 at the everyday ceiling; a word counts as stock, shape (n,)."""
        values = settings[self.knob.name]
        if self.stock <= 0:
            return np.zeros(len(values))
        usual = np.where(values > 0, values, self.stock)
        return np.asarray(np.log(usual / self.stock) / self.unit)


@dataclass(frozen=True)
class Risk:
    """A knob that can fail a run."""

    knob: Knob
    supports: tuple[int, ...]
    """Which supports move its edge, by their place."""
    gain: tuple[float, ...]
    """For each, in spans: by how much the support's unit likely moves the edge."""
    starts: bool
    """Whether going too far can keep the machine from starting."""
    rate: Knob | None = None
    """The data rate that turns a timing's clocks into time; None: the value counts as it is."""
    times: tuple[str, ...] = ()
    """Knobs that multiply it into the derived clock that the part feels."""
    stock: float = 0.0
    """Coordinate of the stock value."""

    @property
    def way(self) -> float:
        """Spans from the stock value to the hardest one."""
        return max(1.0 - self.stock, _LEAST_WAY)

    def coordinates(self, settings: "Settings") -> Array:
        """Of complete settings; a word counts as stock, shape (n,)."""
        values = settings[self.knob.name]
        if self.rate is not None:
            values = values * settings.usual(self.rate.name) / settings[self.rate.name]
        for name in self.times:
            values = values * settings[name] / settings.usual(name)
        knob, grid = self.knob, self.knob.grid
        assert grid is not None, knob.name
        beyond = grid.high - values if knob.harder is Harder.DOWN else values - grid.low
        return np.asarray(beyond / grid.step / max(grid.size - 1, 1))


@dataclass(frozen=True)
class Settings:
    """Complete settings by knob, a word counting as stock."""

    stock: Mapping[str, Value]
    each: Sequence[Mapping[str, Value]]

    def __getitem__(self, name: str) -> Array:
        """One knob's values, shape (n,)."""
        values = [setting[name] for setting in self.each]
        usual = self.usual(name)
        return np.array([usual if isinstance(v, str) else v for v in values], float)

    def usual(self, name: str) -> float:
        """The stock value."""
        return _number(self.stock[name], 1.0)


@dataclass(frozen=True)
class Layout:
    """The risks and supports of a definition."""

    definition: Definition
    risks: tuple[Risk, ...]
    supports: tuple[Support, ...]

    @cached_property
    def names(self) -> tuple[str, ...]:
        """The risks' knobs."""
        return tuple(risk.knob.name for risk in self.risks)

    def coordinates(self, settings: Sequence[Mapping[str, Value]]) -> Array:
        """Of each risk at each setting, shape (n, k)."""
        given = Settings(self.definition.stock, settings)
        return side_by_side([risk.coordinates(given) for risk in self.risks], len(settings))

    def helps(self, settings: Sequence[Mapping[str, Value]]) -> Array:
        """Coordinates of the supports at each setting, shape (n, s)."""
        given = Settings(self.definition.stock, settings)
        return side_by_side([each.coordinates(given) for each in self.supports], len(settings))


def side_by_side(columns: Sequence[Array], count: int) -> Array:
    """Columns of so many numbers, any or none, as one array, shape (count, c)."""
    return np.stack(columns, axis=1) if columns else np.zeros((count, 0))


def layout_of(definition: Definition) -> Layout:
    """The risks and supports of a definition."""
    knobs = definition.knobs.values()
    supports = tuple(_support(knob) for knob in knobs if _is_support(knob))
    risks = [
        _risk(definition, knob, supports)
        for knob in knobs
        if knob.grid is not None and not _is_support(knob)
    ]
    return Layout(definition, tuple(risks), supports)


def _is_support(knob: Knob) -> bool:
    return bool(knob.supports) and knob.grid is not None and knob.harder is not Harder.CHOICE


def _support(knob: Knob) -> Support:
    assert knob.grid is not None, knob.name
    stock = _number(knob.stock, knob.grid.low)
    top = knob.ceilings.everyday
    high = knob.grid.high if top is None else min(top, knob.grid.high)
    if high <= stock:
        high = max(knob.grid.high, stock + knob.grid.step)
    unit = log(high / stock) if stock > 0 else 1.0
    return Support(knob, stock, max(unit, 1e-3))


def _risk(definition: Definition, knob: Knob, supports: Sequence[Support]) -> Risk:
    mine = [i for i, s in enumerate(supports) if knob.name in s.knob.supports]
    assert knob.grid is not None, knob.name
    bare = Risk(
        knob,
        tuple(mine),
        tuple(_likely_gain(knob, supports[i]) for i in mine),
        starts=knob.where is Where.FIRMWARE,
        rate=_rate_of(definition, knob),
        times=_times_of(definition, knob),
    )
    stock = float(bare.coordinates(Settings(definition.stock, [definition.stock]))[0])
    return replace(bare, stock=stock)


def _likely_gain(knob: Knob, support: Support) -> float:
    """Between what physics lets a clock gain, and a quarter of the range."""
    assert knob.grid is not None, knob.name
    stock = _number(knob.stock, knob.grid.low)
    width = max(knob.grid.high - knob.grid.low, knob.grid.step)
    physical = _net_elasticity(support) * abs(stock) * support.unit / width
    return float(np.sqrt(max(physical, 0.02) * 0.25))


def _net_elasticity(support: Support) -> float:
    """By the alpha-power law, less what the added heat takes; of a voltage that is no offset."""
    volts = support.stock * (conversion(support.knob.unit, "V") or 0.0)
    return (1 - _HEAT) * elasticity(volts) if volts >= _LEAST_VOLTS else _OTHER_SUPPORT


def _rate_of(definition: Definition, knob: Knob) -> Knob | None:
    if not knob.is_timing or stays_in_clocks(knob.name):
        return None
    rates = (
        k for k in definition.knobs.values() if k.group == knob.group and k.unit.lower() == "mt/s"
    )
    return next(rates, None)


def _times_of(definition: Definition, knob: Knob) -> tuple[str, ...]:
    """The other members of the one derived product that a ratio belongs to."""
    mine = [
        d
        for d in definition.derived.values()
        if d.operation == "product" and knob.name in d.members
    ]
    if len(mine) != 1 or knob.harder is not Harder.UP:
        return ()
    others = [m for m in mine[0].members if m != knob.name and m in definition.knobs]
    shared = [
        m
        for m in others
        if sum(m in d.members for d in definition.derived.values()) > 1
        or list(definition.knobs).index(m) < list(definition.knobs).index(knob.name)
    ]
    return tuple(shared)


def _number(value: Value, instead: Value) -> float:
    if not isinstance(value, str):
        return float(value)
    return float(instead) if not isinstance(instead, str) else 1.0
