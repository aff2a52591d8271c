"""A study's definition: what there is to tune and how far, as it stands in `study.toml`."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from math import inf, prod

from planner.domain.ceilings import Ceilings
from planner.domain.claim_rules import NO_RULES, ClaimRules
from planner.domain.drive import Drive
from planner.domain.knob import Harder, Knob, Setting, Value, Where
from planner.domain.mains import Mains
from planner.domain.tables import Derived, Goal, Group, Reading, Rig, Role, Rule, Workload


@dataclass(frozen=True)
class Definition:
    """All tables of a study, checked against each other when they were read."""

    goal: Goal
    rig: Rig
    groups: Mapping[str, Group]
    knobs: Mapping[str, Knob]
    derived: Mapping[str, Derived]
    """In an order in which each refers only to knobs and to those before it."""
    rules: tuple[Rule, ...]
    readings: Mapping[str, Reading]
    workloads: Mapping[str, Workload]
    text: str
    """The TOML text that it was read from."""
    mains: Mains | None = None
    """The wall socket; None: not told."""
    claim_rules: ClaimRules = NO_RULES
    drive: Drive | None = None
    """Commands to run the search with; None: a person turns the knobs."""

    @cached_property
    def stock(self) -> Setting:
        """Every knob at its stock value."""
        return {name: knob.stock for name, knob in self.knobs.items()}

    @cached_property
    def searched(self) -> Knob | None:
        """The knob whose edge the study is after: the one named, else the first ordered one."""
        if self.goal.knob:
            return self.knobs[self.goal.knob]
        ordered = (k for k in self.knobs.values() if k.harder is not Harder.CHOICE)
        return next(ordered, None)

    @cached_property
    def workload(self) -> Workload:
        """What a nominal run is."""
        if self.goal.workload:
            return self.workloads[self.goal.workload]
        return next(iter(self.workloads.values()))

    def reading_of(self, role: Role) -> str:
        """Name of the reading that has this role; empty: none has."""
        return next((name for name, r in self.readings.items() if r.role is role), "")

    @cached_property
    def dialling(self) -> tuple[tuple[str, float, float], ...]:
        """Each knob with the minutes of one changed value and of the restart that it takes.

        A group's own restart replaces the rig's: memory trains in it. A live knob takes none.
        """
        return tuple(
            (
                name,
                knob.change_minutes,
                self._restart(knob) if knob.where is Where.FIRMWARE else 0.0,
            )
            for name, knob in self.knobs.items()
        )

    @cached_property
    def live(self) -> bool:
        """Whether any knob is changed while the machine runs, and lost when it restarts."""
        return any(knob.where is Where.LIVE for knob in self.knobs.values())

    def _restart(self, knob: Knob) -> float:
        group = self.groups.get(knob.group)
        own = None if group is None else group.restart_minutes
        return self.rig.reboot_minutes if own is None else own

    def numbers(self, setting: Mapping[str, Value]) -> dict[str, float]:
        """Every numeric knob and derived value of a complete setting, by name."""
        values = {n: float(v) for n, v in setting.items() if not isinstance(v, str)}
        for derived in self.derived.values():
            if not all(member in values for member in derived.members):
                continue
            values[derived.name] = _derive(derived, values)
        return values

    @cached_property
    def guarded(self) -> Mapping[str, Ceilings]:
        """The ceilings of every numeric knob and derived value, blanks made explicit.

        A voltage without an everyday ceiling must not rise above stock, unless a derived value
        that it belongs to has one; so must anything that has an own-risk ceiling alone.
        """
        covered = {
            member
            for derived in self.derived.values()
            if derived.ceilings.everyday is not None
            for member in derived.members
        }
        at_stock = self.numbers(self.stock)
        result: dict[str, Ceilings] = {}
        for name, knob in self.knobs.items():
            if any(not isinstance(value, str) for value in knob.values):
                blank_stops = knob.lifts_voltage and name not in covered
                result[name] = _explicit(knob.ceilings, at_stock.get(name), blank_stops)
        for name, derived in self.derived.items():
            result[name] = _explicit(derived.ceilings, at_stock.get(name), False)
        return result


def _derive(derived: Derived, values: Mapping[str, float]) -> float:
    """In decimals: in binary 0.1 + 0.2 would lie a last bit over a ceiling of 0.3."""
    terms = [
        Decimal(repr(values[member])) * Decimal(repr(factor))
        for member, factor in zip(derived.members, derived.factors, strict=True)
    ]
    return float(sum(terms) if derived.operation == "sum" else prod(terms))


def _explicit(ceilings: Ceilings, stock: float | None, blank_stops: bool) -> Ceilings:
    if ceilings.everyday is not None:
        return ceilings
    if stock is None:
        # Stock is a word, as `auto`: no number is known to be no rise.
        guarded = blank_stops or ceilings.own_risk is not None
        return Ceilings(-inf, None, ceilings.hard_stop) if guarded else ceilings
    if not blank_stops and ceilings.own_risk is None:
        return Ceilings(None, None, ceilings.hard_stop)
    above = [c for c in (ceilings.own_risk, ceilings.hard_stop) if c is not None]
    return Ceilings(min([stock, *above]), ceilings.own_risk, ceilings.hard_stop)
