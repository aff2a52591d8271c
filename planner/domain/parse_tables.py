"""The smaller tables of a definition, one function each."""

from collections.abc import Mapping, Set

from planner.domain.expression import parse_inequality
from planner.domain.knob import Harder, Knob
from planner.domain.quantity import canonical_unit
from planner.domain.table import Table
from planner.domain.tables import (
    LAPSE,
    Aim,
    Goal,
    Group,
    Reading,
    Role,
    Rule,
    RuleKind,
    Workload,
)

_ROLE_UNITS = {Role.ROOM: ("C", "\N{DEGREE SIGN}C"), Role.HUMIDITY: ("%",), Role.WALL: ("W", "kW")}
"""Units in which a role's reading is understood."""


def parse_goal(table: Table, knobs: Mapping[str, Knob], workloads: Mapping[str, Workload]) -> Goal:
    """The `[study]` table, its references checked."""
    knob = _reference(table, "knob", knobs)
    goal = Goal(
        name=table.text_or("name", "study", 60),
        aim=table.one_of("aim", Aim, Aim.EDGE),
        knob=knob,
        along=_reference(table, "along", knobs),
        target=table.share_or("target", 0.9),
        minutes=table.number("minutes", "min", at_least=0.0),
        seed=table.whole_or("seed", 0, 0),
        boldness=table.share_or("boldness", 0.5),
        trust_suspicion=table.share_or("trust_suspicion", 0.7),
        strategy=table.text_or("strategy", "bayes", 20),
        workload=_reference(table, "workload", workloads),
        tolerance=table.number("tolerance", _searched_unit(knob, knobs)),
        max_changes=table.whole_or("max_changes", 0, 0, 1000) or None,
        hours_between_failures=table.number("hours_between_failures", "h", at_least=0.01),
        warmest_room=table.number("warmest_room", "C"),
        confidence=table.number("confidence"),
        take_over_minutes=table.number("take_over_minutes", "min", at_least=1.0),
        cold_boots=table.whole_or("cold_boots", 0, 0, 1000),
    )
    table.done()
    _check_goal(table, goal, knobs)
    return goal


def _searched_unit(named: str, knobs: Mapping[str, Knob]) -> str:
    ordered = (knob for knob in knobs.values() if knob.harder is not Harder.CHOICE)
    knob = knobs[named] if named else next(ordered, None)
    return knob.unit if knob else ""


def _reference(table: Table, key: str, known: Mapping[str, object]) -> str:
    name = table.text_or(key, "", 60)
    if name and name not in known:
        raise table.fail(key, name, "one of " + ", ".join(known))
    return name


def _check_goal(table: Table, goal: Goal, knobs: Mapping[str, Knob]) -> None:
    if not 0.5 <= goal.target < 1 - LAPSE:
        raise table.fail(
            "target",
            goal.target,
            f"from 0.5 to under {1 - LAPSE:g} (crashes that no setting causes set the bound)",
        )
    for key, name in (("knob", goal.knob), ("along", goal.along)):
        if name and knobs[name].harder is Harder.CHOICE:
            raise table.fail(key, name, "a knob with a range, not a choice")
    if goal.along and goal.along == goal.knob:
        raise table.fail("along", goal.along, "another knob than the one searched")
    if goal.confidence is not None and not 0.5 <= goal.confidence < 1:
        raise table.fail("confidence", goal.confidence, "from 0.5 to under 1")
    if goal.tolerance is not None and goal.tolerance <= 0:
        raise table.fail("tolerance", goal.tolerance, "a positive number")


def parse_group(table: Table) -> Group:
    """One `[[group]]` table."""
    group = Group(
        name=table.label(),
        restart_minutes=table.number("restart_minutes", "min", at_least=0.0),
        crash_price=table.number_or("crash_price", 0.0, "min"),
    )
    table.done()
    return group


def parse_rule(table: Table, names: Set[str], number: int) -> Rule:
    """One `[[rule]]` table; a nameless one goes by its number."""
    name = table.text_or("name", f"rule {number}", 60)
    table.where = f"{table.where} {name}"
    written = table.required("holds")
    if not isinstance(written, str) or not written.isprintable():
        raise table.fail("holds", written, "an inequality, as 'tRAS >= tRCD + 4'")
    holds = table.checked(lambda: parse_inequality(written))
    for unknown in sorted(holds.names - names):
        raise table.fail("holds", unknown, "names of knobs or derived values")
    kind = table.one_of("kind", RuleKind, RuleKind.NOTE)
    table.done()
    return Rule(name, holds, kind)


def parse_reading(table: Table) -> Reading:
    """One `[[reading]]` table."""
    name = table.name()
    unit = canonical_unit(table.text_or("unit", at_most=20))
    source, stop = table.text_or("source", at_most=60), table.number("stop", unit)
    role = table.one_of("role", Role, _usual_role(name, unit))
    expected = _ROLE_UNITS.get(role, (unit,))
    if unit not in expected:
        raise table.fail("unit", unit, f"{expected[0]}, as role = {role.value!r} needs")
    reading = Reading(name, unit, source, stop, role)
    table.done()
    return reading


def _usual_role(name: str, unit: str) -> Role:
    """A reading called `room` is the room's, if its unit fits."""
    role = Role(name) if name in tuple(Role) else Role.NONE
    return role if unit in _ROLE_UNITS.get(role, ()) else Role.NONE
