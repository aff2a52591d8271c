"""From the text or tables of a definition to its nouns; cross-checks between tables."""

import tomllib
from collections.abc import Callable, Iterable, Mapping
from typing import Any, TypeVar

from planner.domain.definition import Definition
from planner.domain.knob import Knob
from planner.domain.parse_bench import Known, parse_claim_rules, parse_mains, parse_rig
from planner.domain.parse_derived import parse_derived
from planner.domain.parse_drive import parse_drive
from planner.domain.parse_each import derived_for_each, one_for_each
from planner.domain.parse_knob import parse_knob
from planner.domain.parse_tables import (
    parse_goal,
    parse_group,
    parse_reading,
    parse_rule,
)
from planner.domain.parse_workload import parse_workload
from planner.domain.table import Table
from planner.domain.tables import Group, Reading, Workload
from planner.errors import DefinitionError

N = TypeVar("N", Group, Knob, Reading, Workload)
MAX_TEXT = 1_000_000
"""A longer definition is refused before it is parsed."""
_LONE = ("study", "rig", "mains", "claim_rules", "drive")
_TABLES = (*_LONE, "group", "knob", "derived", "rule", "reading", "workload")
_PLACES = {"mirror": "planner mirror FOLDER", "store": "planner move NAME ADDRESS"}
"""Keys that do not belong here, and the commands that write them where they do."""


def parse_text(text: str, source: str = "study.toml") -> Definition:
    """The definition in a TOML text; `source` is the file that messages name.

    Raises:
        DefinitionError: not TOML, or a table, key or value that cannot be.
    """
    if len(text) > MAX_TEXT:
        raise DefinitionError(f"{source}: {len(text)} characters, expected at most {MAX_TEXT}")
    try:
        tables = tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        raise DefinitionError(f"{source}: not readable as TOML: {error}") from None
    return _parse(tables, text, source)


def _parse(tables: Mapping[str, Any], text: str, source: str) -> Definition:
    top = Table(tables, source)
    _refuse_places(tables, source)
    _refuse_places(tables.get("study"), f"{source}: [study]")
    given = {name: top.take(name) for name in _TABLES}
    top.done()
    groups = _named(given["group"], source, "group", parse_group)
    knobs = one_for_each(_named(given["knob"], source, "knob", parse_knob), source)
    if not knobs:
        raise DefinitionError(f"{source}: no [[knob]] table, expected at least one")
    made = derived_for_each(_tables(given["derived"], source, "derived"), knobs)
    derived = parse_derived(made, knobs, source)
    names = {*knobs, *derived}
    rules = tuple(
        parse_rule(Table(raw, f"{source}: [[rule]]"), names, number)
        for number, raw in enumerate(_tables(given["rule"], source, "rule"), 1)
    )
    readings = _named(given["reading"], source, "reading", parse_reading)
    workloads = _named(given["workload"], source, "workload", parse_workload)
    workloads = workloads or {"run": Workload("run")}
    study = Table(_table(given["study"]), f"{source}: [study]")
    rig = parse_rig(Table(_table(given["rig"]), f"{source}: [rig]"))
    asked = Table(_table(given["claim_rules"]), f"{source}: [claim_rules]")
    brackets = {name for name, _ in rig.cost_brackets}
    known = Known(names, {*knobs}, {*readings}, {*workloads}, brackets)
    mains, drive = given["mains"], given["drive"]
    definition = Definition(
        goal=parse_goal(study, knobs, workloads),
        rig=rig,
        groups=groups,
        knobs=knobs,
        derived=derived,
        rules=rules,
        readings=readings,
        workloads=workloads,
        text=text,
        mains=None if mains is None else parse_mains(Table(mains, f"{source}: [mains]")),
        claim_rules=parse_claim_rules(asked, known),
        drive=None if drive is None else parse_drive(Table(drive, f"{source}: [drive]")),
    )
    _check_references(definition, source)
    return definition


def _refuse_places(given: object, where: str) -> None:
    """Where the ledger stands is a matter of each bench, not of the study."""
    for key, command in _PLACES.items():
        if isinstance(given, Mapping) and key in given:
            raise DefinitionError(
                f"{where}: {key}: expected in store.toml beside it, where {command} writes it"
            )


def _table(raw: Any) -> Any:
    return {} if raw is None else raw


def _tables(raw: object, source: str, kind: str) -> list[Any]:
    if raw is None:
        return []
    if not isinstance(raw, (list, tuple)):
        raise DefinitionError(f"{source}: {kind}: expected [[{kind}]] tables, one for each")
    return list(raw)


def _named(raw: object, source: str, kind: str, parse: Callable[[Table], N]) -> dict[str, N]:
    result: dict[str, N] = {}
    for given in _tables(raw, source, kind):
        noun = parse(Table(given, f"{source}: [[{kind}]]"))
        if noun.name in result:
            raise DefinitionError(
                f"{source}: [[{kind}]] name = {noun.name!r} is given twice, expected once"
            )
        result[noun.name] = noun
    return result


def _check_references(definition: Definition, source: str) -> None:
    for knob in definition.knobs.values():
        where = f"{source}: [[knob]] {knob.name}"
        if knob.name in knob.supports:
            raise DefinitionError(f"{where}: supports names itself, expected other knobs")
        _check_known(knob.supports, definition.knobs, f"{where}: supports", "knobs")
        if knob.group and definition.groups:
            _check_known([knob.group], definition.groups, f"{where}: group", "[[group]] tables")
    groups = {*definition.groups, *(k.group for k in definition.knobs.values() if k.group)}
    for workload in definition.workloads.values():
        where = f"{source}: [[workload]] {workload.name}: screens"
        _check_known(workload.screens, groups, where, "groups")


def _check_known(names: Iterable[str], known: Iterable[str], where: str, kind: str) -> None:
    for name in names:
        if name not in known:
            listed = ", ".join(sorted(known)) or "none"
            raise DefinitionError(f"{where} = {name!r}: expected one of the {kind}: {listed}")
