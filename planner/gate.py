"""The one gate: which settings may be proposed. Strategies see it narrowed, the writer asks again.

It refuses and never clamps: a setting that must not be proposed is a defect of whoever asked.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from math import isclose, isfinite

from planner.domain.ceilings import Ceilings
from planner.domain.definition import Definition
from planner.domain.drive import WENT_DOWN
from planner.domain.expression import Inequality
from planner.domain.knob import Harder, Knob, Value, Where
from planner.domain.outcome import Outcome
from planner.domain.quantity import with_unit
from planner.domain.run import Run
from planner.domain.tables import RuleKind
from planner.forecast.outlook import Outlook, outlook_of
from planner.history import Changed, History, once

_Key = tuple[Value | None, ...]
"""A setting's values in the order of the study's knobs."""


@dataclass(frozen=True)
class Gate:
    """What a definition, with the risks accepted and the runs recorded, permits."""

    definition: Definition
    accepted: Mapping[str, float]
    deadly: Mapping[_Key, str]
    """Settings that failed to start or took an unwatched machine down, and what they did; nothing
    since speaks for them."""
    too_hot: tuple[tuple[Run, str], ...]
    """Runs that pushed a reading past its stop, with the reading."""
    outlook: Outlook
    """What readings would come to, and what that forbids."""

    @cached_property
    def ceilings(self) -> Mapping[str, float]:
        """The highest value that may be proposed, for each knob or derived value that has one."""
        result = {}
        for name, ceilings in self.definition.guarded.items():
            top = effective_ceiling(ceilings, self.accepted.get(name))
            if top is not None:
                result[name] = top
        return result

    def objections(self, setting: Mapping[str, Value]) -> list[str]:
        """Why the setting must not be proposed, in words; empty where it may be."""
        found = self._off_grid(setting)
        if found:
            return found
        numbers = self.definition.numbers(setting)
        found = [
            f"{name} = {self._show(name, numbers[name])} is above its ceiling of"
            f" {self._show(name, top) if isfinite(top) else 'nothing: fill in everyday'}"
            for name, top in self.ceilings.items()
            if name in numbers and _above(numbers[name], top)
        ]
        found += [
            f"rule {rule.name} is broken: {rule.holds.text}"
            for rule in self.definition.rules
            if rule.kind is RuleKind.HARD and not _satisfied(rule.holds, numbers)
        ]
        found += [
            f"run {run.number} pushed {reading} past its stop at this setting or a milder one"
            for run, reading in self.too_hot
            if _at_least_as_hot(self.definition, setting, run.ran)
        ]
        if did := self.deadly.get(_key(self.definition, setting)):
            found.append(f"it {did}, and nothing since speaks for it")
        return found + self.outlook.objections(setting)

    def permits(self, setting: Mapping[str, Value]) -> bool:
        """Whether the setting may be proposed."""
        return not self.objections(setting)

    def permitted_values(self, knob: Knob, others: Mapping[str, Value]) -> tuple[Value, ...]:
        """The knob's values, easiest first, that may be proposed beside the others as given."""
        return tuple(v for v in knob.values if self.permits({**others, knob.name: v}))

    def at_own_risk(self, setting: Mapping[str, Value]) -> tuple[str, ...]:
        """Knobs and derived values of the setting that lie above their everyday ceiling."""
        return above_everyday(self.definition, setting)

    def _off_grid(self, setting: Mapping[str, Value]) -> list[str]:
        knobs = self.definition.knobs
        found = [f"{name} is no knob of this study" for name in setting if name not in knobs]
        for name, knob in knobs.items():
            if name not in setting:
                found.append(f"{name} has no value")
            elif not knob.allows(setting[name]):
                found.append(
                    f"{name} = {knob.show(setting[name])}: expected {knob.describe_values()}"
                )
        return found

    def _show(self, name: str, value: float) -> str:
        noun = self.definition.knobs.get(name) or self.definition.derived[name]
        return with_unit(value, noun.unit)


def gate_of(history: History, everyday_only: bool = False) -> Gate:
    """The gate as it stands after `history`; `everyday_only` ignores accepted risks."""
    gate = _everyday_gate(history)
    return gate if everyday_only else replace(gate, accepted=history.accepted)


@once
def _everyday_gate(history: History) -> Gate:
    deadly: dict[_Key, str] = {}
    too_hot: list[tuple[Run, str]] = []
    definition = history.definition
    stops = [(n, r.stop) for n, r in definition.readings.items() if r.stop is not None]
    for run in history.evidence:
        if (did := _deadly(run)) and change_since(history, run, _cause(run)) is None:
            deadly[_key(definition, run.ran)] = did
        elif run.outcome.held and deadly:
            deadly.pop(_key(definition, run.ran), None)
        past = [name for name, stop in stops if run.readings.get(name, stop) > stop]
        if past and change_since(history, run) is None:
            too_hot += [(run, name) for name in past]
    return Gate(definition, {}, deadly, tuple(too_hot), outlook_of(history))


def _deadly(run: Run) -> str:
    """What it did that must not happen again while nobody watches; empty: nothing such."""
    if run.outcome is Outcome.NO_START:
        return "failed to start"
    down = run.outcome is Outcome.CRASH and run.symptom.startswith(WENT_DOWN)
    return f"took the machine down in run {run.number}" if down else ""


def _cause(run: Run) -> Where | None:
    """Where the knobs stand that may have done it; None: anywhere."""
    return Where.FIRMWARE if run.outcome is Outcome.NO_START else None


def change_since(history: History, run: Run, where: Where | None = None) -> Changed | None:
    """The last change told since a run that concerns what was turned in it; of one place, if given.

    At stock anything may have been the cause; and what is in no group every change concerns.
    """
    later = history.changes[run.epoch :]
    if not later:
        return None
    turned = {
        knob.group
        for name, knob in history.definition.knobs.items()
        if where in (None, knob.where) and run.ran.get(name, knob.stock) != knob.stock
    }
    any_will = not turned or "" in turned
    concern = [c for c in later if any_will or not c.groups or turned & set(c.groups)]
    return concern[-1] if concern else None


def effective_ceiling(ceilings: Ceilings, accepted: float | None) -> float | None:
    """The highest value that may be proposed: everyday, or what was accepted up to own-risk."""
    top = ceilings.everyday
    if accepted is not None and top is not None and ceilings.own_risk is not None:
        top = max(top, min(accepted, ceilings.own_risk))
    bounds = [bound for bound in (top, ceilings.last) if bound is not None]
    return min(bounds, default=None)


def above_everyday(definition: Definition, setting: Mapping[str, Value]) -> tuple[str, ...]:
    """Knobs and derived values of the setting that lie above their everyday ceiling."""
    numbers = definition.numbers(setting)
    return tuple(
        name
        for name, ceilings in definition.guarded.items()
        if ceilings.everyday is not None
        and name in numbers
        and _above(numbers[name], ceilings.everyday)
    )


def past_hard_stop(definition: Definition, setting: Mapping[str, Value]) -> tuple[str, ...]:
    """Knobs and derived values of the setting that lie past the last ceiling given."""
    numbers = definition.numbers(setting)
    return tuple(
        name
        for name, ceilings in definition.guarded.items()
        if ceilings.last is not None and name in numbers and _above(numbers[name], ceilings.last)
    )


def _above(value: float, top: float) -> bool:
    """Above, by more than the last bits of a unit's conversion."""
    return value > top and not isclose(value, top, rel_tol=1e-12)


def _satisfied(holds: Inequality, numbers: Mapping[str, float]) -> bool:
    return not holds.names <= numbers.keys() or holds(numbers)


def _key(definition: Definition, setting: Mapping[str, Value]) -> _Key:
    return tuple(setting.get(name) for name in definition.knobs)


def _at_least_as_hot(
    definition: Definition, setting: Mapping[str, Value], run: Mapping[str, Value]
) -> bool:
    """Heat rises with clocks, voltages and coolant, and with timings that are tightened."""
    for name, knob in definition.knobs.items():
        mine, theirs = setting[name], run.get(name, knob.stock)
        if knob.harder is Harder.CHOICE or isinstance(mine, str) or isinstance(theirs, str):
            if mine != theirs:
                return False
        elif knob.harder is Harder.UP or knob.lifts_voltage or knob.cools:
            if mine < theirs:
                return False
        elif mine > theirs:
            return False
    return True
