"""How hard a setting works the machine: switching power by group, over that at stock.

By P = C V^2 f (`planner.trade.heat.silicon`) a group's load is the product of its clocks and of the
squares of its voltages, each over its stock value, less 1: nought at stock, 0.1 where it switches a
tenth more power. Timings count for nothing. A voltage that is given as an offset counts by the
derived value that it is part of; where there is none, as if on top of one volt.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.domain.definition import Definition
from planner.domain.knob import Harder, Knob, Value
from planner.domain.quantity import conversion
from planner.trade.heat.silicon import power_ratio


@dataclass(frozen=True, slots=True)
class _Factor:
    """One clock or voltage of a group."""

    name: str
    """Of a knob, or of the derived value that stands for it."""
    group: str
    voltage: bool
    stock: float
    base: float
    """What stock counts as; its own value, or a volt under an offset, in its unit."""


@dataclass(frozen=True)
class Load:
    """The groups of a study that switch power, and what in them does."""

    definition: Definition
    groups: tuple[str, ...]
    factors: tuple[_Factor, ...]

    def of(self, setting: Mapping[str, Value]) -> tuple[float, ...]:
        """The load of each group above stock, as a share of stock's."""
        numbers = self.definition.numbers(setting)
        ratios = dict.fromkeys(self.groups, 1.0)
        for factor in self.factors:
            if factor.name not in numbers:
                continue
            ratio = max(0.0, 1 + (numbers[factor.name] - factor.stock) / factor.base)
            if factor.voltage:
                ratios[factor.group] *= power_ratio(volts=ratio, clock=1.0)
            else:
                ratios[factor.group] *= power_ratio(volts=1.0, clock=ratio)
        return tuple(ratio - 1 for ratio in ratios.values())


def load_of(definition: Definition) -> Load:
    """What switches power in a study."""
    at_stock = definition.numbers(definition.stock)
    factors: dict[str, _Factor] = {}
    for name, knob in definition.knobs.items():
        voltage = knob.lifts_voltage
        if name not in at_stock or knob.cools or not (voltage or _is_clock(knob)):
            continue
        stands_for, stock, base = name, at_stock[name], at_stock[name]
        if voltage and (stock <= 0 or _reaches_zero(knob)):
            stands_for, stock, base = _whole_voltage(definition, knob, at_stock)
        if base > 0:
            group = _group(definition, knob)
            factors[stands_for] = _Factor(stands_for, group, voltage, stock, base)
    groups = tuple(dict.fromkeys(factor.group for factor in factors.values()))
    return Load(definition, groups, tuple(factors.values()))


def _is_clock(knob: Knob) -> bool:
    """A rate or a ratio that is harder when it is higher."""
    rate = any(conversion(knob.unit, unit) is not None for unit in ("MHz", "MT/s", "x"))
    return knob.harder is Harder.UP and rate and knob.grid is not None


def _reaches_zero(knob: Knob) -> bool:
    return knob.grid is not None and knob.grid.low <= 0


def _whole_voltage(
    definition: Definition, knob: Knob, at_stock: Mapping[str, float]
) -> tuple[str, float, float]:
    """Name, stock and base of what stands for an offset."""
    for derived in definition.derived.values():
        if derived.operation == "sum" and knob.name in derived.members:
            stock = at_stock.get(derived.name, 0.0)
            if stock > 0:
                return derived.name, stock, stock
    return knob.name, at_stock[knob.name], conversion("V", knob.unit) or 1.0


def _group(definition: Definition, knob: Knob) -> str:
    """Its own group; a voltage without one goes with what it supports."""
    if knob.group or not knob.supports:
        return knob.group
    return definition.knobs[knob.supports[0]].group
