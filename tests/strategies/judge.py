"""An independent judge of settings, by brute force and in exact fractions.

It knows the tables as they were given and what was told afterwards, none of the planner's code.
Rules it judges are sums: a list of (factor, knob) and a constant that must not be above zero.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cache
from typing import Any

Tables = Mapping[str, Any]
Setting = Mapping[str, Any]
VOLTAGES = ("V", "mV")
IN_UNIT = {("mV", "V"): Fraction(1, 1000), ("V", "mV"): Fraction(1000)}
IN_UNIT |= {("MHz", "GHz"): Fraction(1, 1000), ("%", "x"): Fraction(1, 100)}


@cache
def exact(value: float) -> Fraction:
    """The decimal that the number is written as."""
    return Fraction(repr(value))


@dataclass
class Told:
    """What was told of a study beyond its definition."""

    accepted: dict[str, float] = field(default_factory=dict)
    no_starts: list[Setting] = field(default_factory=list)
    too_hot: list[Setting] = field(default_factory=list)


def forbidden(
    tables: Tables, told: Told, highest: Mapping[str, Fraction], setting: Setting
) -> list[str]:
    """Every law that the setting breaks, by one word each; `highest` as `tops` gives it."""
    knobs = {knob["name"]: knob for knob in tables["knob"]}
    if setting.keys() != knobs.keys():
        return ["names"]
    if not all(on_grid(knob, setting[name]) for name, knob in knobs.items()):
        return ["grid"]
    numbers = numbers_of(tables, setting)
    broken = [f"ceiling {n}" for n, top in highest.items() if numbers[n] > top]
    broken += ["rule" for rule in tables["sums"] if rule["hard"] and total(rule, numbers) > 0]
    broken += ["no-start" for s in told.no_starts if all(s[n] == setting[n] for n in knobs)]
    return broken + ["hot" for s in told.too_hot if as_hot(knobs, setting, s)]


def on_grid(knob: Mapping[str, Any], value: object) -> bool:
    """Whether the value is one of the knob's."""
    if knob["harder"] == "choice":
        return value in knob["choices"]
    return _stands(value, *(float(knob[key]) for key in ("low", "high", "step")))


@cache
def _stands(value: float, low: float, high: float, step: float) -> bool:
    first, last = exact(low), exact(high)
    return first <= exact(value) <= last and (exact(value) - first) % exact(step) == 0


def numbers_of(tables: Tables, setting: Setting) -> dict[str, Fraction]:
    """Knobs in their units and derived values in theirs."""
    numbers = {n: exact(float(v)) for n, v in setting.items() if not isinstance(v, str)}
    units = {knob["name"]: knob.get("unit", "") for knob in tables["knob"]}
    for derived in tables["derived"]:
        factor = {m: IN_UNIT.get((units[m], derived["unit"]), 1) for m in units}
        if "sum" in derived:
            numbers[derived["name"]] = sum(numbers[m] * factor[m] for m in derived["sum"])
        else:
            carrier, percent = derived["product"]
            ratio = IN_UNIT.get((units[percent], "x"), 1)
            numbers[derived["name"]] = numbers[carrier] * factor[carrier] * numbers[percent] * ratio
    return numbers


def tops(tables: Tables, told: Told) -> dict[str, Fraction]:
    """The highest value that may be proposed, for whatever has one."""
    stock = numbers_of(tables, {k["name"]: k["stock"] for k in tables["knob"]})
    covered = {
        m for d in tables["derived"] if "everyday" in d for m in (d.get("sum") or d["product"])
    }
    found = {}
    for noun in [*tables["knob"], *tables["derived"]]:
        name, given = noun["name"], ceilings(noun)
        lifts = "harder" in noun and (noun["unit"] in VOLTAGES or noun["supports"])
        if name not in stock or not (given or lifts):
            continue
        hard_stop = max(given.values()) if given else None
        blank = "everyday" not in given
        if not blank or "own_risk" in given or (lifts and name not in covered):
            everyday = given["everyday"] if not blank else min([stock[name], *given.values()])
            accepted = exact(told.accepted[name]) if name in told.accepted else everyday
            reach = max(everyday, min(accepted, given.get("own_risk", everyday)))
            found[name] = reach if hard_stop is None else min(reach, hard_stop)
        elif hard_stop is not None:
            found[name] = hard_stop
    return found


def ceilings(noun: Mapping[str, Any]) -> dict[str, Fraction]:
    """The ceilings that were filled in; the last is the highest, since they are in order."""
    return {k: exact(float(noun[k])) for k in ("everyday", "own_risk", "hard_stop") if k in noun}


def total(rule: Mapping[str, Any], numbers: Mapping[str, Fraction]) -> Fraction:
    """What the rule's sum comes to; it must not be above zero."""
    return sum(factor * numbers[name] for factor, name in rule["terms"]) + rule["constant"]


def as_hot(knobs: Mapping[str, Any], setting: Setting, run: Setting) -> bool:
    """Whether nothing is cooler than in the run: clocks and voltages as high, timings as low."""
    for name, knob in knobs.items():
        mine, theirs = setting[name], run[name]
        rises = knob["harder"] == "up" or knob["unit"] in VOLTAGES or bool(knob["supports"])
        if knob["harder"] == "choice":
            if mine != theirs:
                return False
        elif (mine < theirs) if rises else (mine > theirs):
            return False
    return True
