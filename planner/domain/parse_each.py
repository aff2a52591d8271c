"""Knobs that each of several like units (cores) has a value of: one knob for each unit."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from planner.domain.knob import Knob
from planner.errors import DefinitionError


def one_for_each(knobs: Mapping[str, Knob], source: str) -> dict[str, Knob]:
    """The knobs, those with `each = N` as `name_1` to `name_N`.

    What supports such a knob supports all of them; where it is one of N itself, its own unit's.

    Raises:
        DefinitionError: another knob has such a name.
    """
    found: dict[str, Knob] = {}
    for knob in knobs.values():
        for unit in range(1, knob.each + 1):
            name = knob.name if knob.each == 1 else f"{knob.name}_{unit}"
            if name in found or (knob.each > 1 and name in knobs):
                raise DefinitionError(
                    f"{source}: [[knob]] {knob.name}: each = {knob.each}: {name!r} is another"
                    " knob's name, expected it free"
                )
            family = "" if knob.each == 1 else knob.name
            supports = _supported(knob, unit, knobs)
            found[name] = replace(knob, name=name, each=1, family=family, supports=supports)
    return found


def _supported(knob: Knob, unit: int, knobs: Mapping[str, Knob]) -> tuple[str, ...]:
    names: list[str] = []
    for name in knob.supports:
        many = knobs[name].each if name in knobs else 1
        if many == 1:
            names.append(name)
        elif many == knob.each:
            names.append(f"{name}_{unit}")
        else:
            names += [f"{name}_{other}" for other in range(1, many + 1)]
    return tuple(names)


def derived_for_each(tables: Sequence[Any], knobs: Mapping[str, Knob]) -> list[Any]:
    """The `[[derived]]` tables, `name_1` to `name_N` of those that are made of such a knob."""
    units: dict[str, int] = {}
    for knob in knobs.values():
        if knob.family:
            units[knob.family] = units.get(knob.family, 0) + 1
    for _ in tables:  # what is made of what is made of such a knob, too
        for table in tables:
            if counts := [units[name] for name in _members(table) if name in units]:
                units[str(table.get("name"))] = min(counts)
    return [each for table in tables for each in _spread(table, units)]


def _members(table: object) -> list[str]:
    if not isinstance(table, Mapping):
        return []
    lists = [table.get(key) for key in ("product", "sum")]
    return [m for names in lists if isinstance(names, (list, tuple)) for m in names if _word(m)]


def _word(name: object) -> bool:
    return isinstance(name, str)


def _spread(table: Any, units: Mapping[str, int]) -> list[Any]:
    if not any(name in units for name in _members(table)):
        return [table]
    found = []
    for unit in range(1, units[str(table.get("name"))] + 1):
        mine = {
            key: [f"{m}_{unit}" if _word(m) and m in units else m for m in value]
            for key, value in table.items()
            if key in ("product", "sum") and isinstance(value, (list, tuple))
        }
        found.append({**table, **mine, "name": f"{table.get('name')}_{unit}"})
    return found
