"""The smaller tables of a definition, one function each."""

from collections.abc import Mapping, Set

from planner.domain.expression import parse_inequality
from planner.domain.knob import Harder, Knob
from planner.domain.parse_launch import parse_launch
from planner.domain.quantity import canonical_unit
from planner.domain.table import Table
from planner.domain.tables import (
    LAPSE,
    Aim,
    Goal,
    Group,
    Part,
    Reading,
    Rig,
    Rule,
    RuleKind,
    Workload,
)


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
        confidence=table.number("confidence"),
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


def parse_rig(table: Table) -> Rig:
    """The `[rig]` table."""
    raw = table.take("parts")
    if raw is not None and not isinstance(raw, (list, tuple)):
        raise table.fail("parts", raw, 'a list such as [{ name = "board", price = 200 }]')
    parts = tuple(_parse_part(Table(p, f"{table.where}: parts")) for p in raw or ())
    rig = Rig(parts, table.number_or("reboot_minutes", 2.0, "min"), table.names("slots"))
    table.done()
    return rig


def _parse_part(table: Table) -> Part:
    part = Part(table.label(), table.number("price", at_least=0.0))
    table.done()
    return part


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
    reading = Reading(name, unit, table.text_or("source", at_most=60), table.number("stop", unit))
    table.done()
    return reading


def parse_workload(table: Table, knobs: Set[str]) -> Workload:
    """One `[[workload]]` table; `knobs`: names that its command may speak of."""
    name = table.label()
    minutes = table.number_or("minutes", 5.0, "min")
    if not 0 < minutes <= 10_080:
        raise table.fail("minutes", minutes, "more than 0 and at most 10080 (a week)")
    subscores = _parse_subscores(table)
    workload = Workload(
        name=name,
        minutes=minutes,
        settle_minutes=table.number_or("settle_minutes", 0.0, "min"),
        screens=table.names("screens"),
        subscores=subscores,
        scored=table.flag_or("scored", bool(subscores)),
        launch=parse_launch(table, minutes, knobs, dict(subscores)),
    )
    table.done()
    if workload.settle_minutes > minutes:
        raise table.fail(
            "settle_minutes", workload.settle_minutes, f"at most minutes = {minutes:g}"
        )
    return workload


def _parse_subscores(table: Table) -> tuple[tuple[str, float | None], ...]:
    raw = table.peek("subscores")
    if not isinstance(raw, Mapping):
        return tuple((name, None) for name in table.names("subscores"))
    table.take("subscores")
    if not all(str(name).isprintable() and len(str(name)) <= 60 for name in raw):
        raise table.fail("subscores", list(raw), "names of at most 60 printable characters")
    weights = Table(raw, f"{table.where}: subscores")
    return tuple((str(name), weights.number_or(str(name), 1.0)) for name in raw)
