"""The `[[derived]]` tables: products and sums, ordered so that none refers to a later one."""

from collections.abc import Mapping, Sequence
from typing import Any, Literal

from planner.domain.knob import Harder, Knob
from planner.domain.parse_knob import parse_ceilings
from planner.domain.quantity import canonical_unit, conversion, is_ratio
from planner.domain.table import Table
from planner.domain.tables import Derived
from planner.errors import DefinitionError


def parse_derived(raw: Sequence[Any], knobs: Mapping[str, Knob], source: str) -> dict[str, Derived]:
    """All derived values, each after those that it refers to.

    Raises:
        DefinitionError: unknown members, names given twice, circles, units that don't match.
    """
    waiting: dict[str, tuple[Table, str, Literal["product", "sum"], tuple[str, ...]]] = {}
    for given in raw:
        table = Table(given, f"{source}: [[derived]]")
        name = table.name()
        if name in waiting or name in knobs:
            raise DefinitionError(f"{table.where}: name is given twice, expected once")
        unit = canonical_unit(table.text_or("unit", at_most=20))
        waiting[name] = (table, unit, *_operation(table))
    units = {name: knob.unit for name, knob in knobs.items()}
    _check_members(waiting, knobs)
    done: dict[str, Derived] = {}
    while waiting:
        ready = next((n for n, (*_, members) in waiting.items() if units.keys() >= {*members}), "")
        if not ready:
            circle = ", ".join(waiting)
            raise DefinitionError(
                f"{source}: [[derived]] {circle}: refer to each other in a circle,"
                " expected each to lead back to knobs"
            )
        table, unit, operation, members = waiting.pop(ready)
        factors = _factors(table, unit, operation, members, units)
        ceilings = parse_ceilings(table, unit)
        table.done()
        units[ready] = unit
        done[ready] = Derived(ready, unit, operation, members, factors, ceilings)
    return done


def _operation(table: Table) -> tuple[Literal["product", "sum"], tuple[str, ...]]:
    product, total = table.names("product"), table.names("sum")
    if bool(product) == bool(total):
        raise DefinitionError(f"{table.where}: expected either product or sum, a list of names")
    return ("product", product) if product else ("sum", total)


def _check_members(
    waiting: Mapping[str, tuple[Table, str, str, tuple[str, ...]]], knobs: Mapping[str, Knob]
) -> None:
    for table, _, operation, members in waiting.values():
        for member in members:
            if member not in waiting and member not in knobs:
                listed = ", ".join([*knobs, *waiting])
                raise table.fail(operation, member, f"one of {listed}")
            if member in knobs and knobs[member].harder is Harder.CHOICE:
                raise table.fail(operation, member, "a knob with a range, not a choice")


def _factors(
    table: Table,
    unit: str,
    operation: str,
    members: tuple[str, ...],
    units: Mapping[str, str],
) -> tuple[float, ...]:
    """What turns each member's unit into the one that makes the result come out in `unit`."""
    carriers = [m for m in members if not is_ratio(units[m])]
    if operation == "product" and not is_ratio(unit) and len(carriers) != 1:
        raise table.fail(
            operation, list(members), f"one member with a unit like {unit}, the others bare ratios"
        )
    if operation == "product":
        return _product_factors(table, unit, members, units)
    factors = [conversion(units[member], unit) for member in members]
    return tuple(_checked(table, operation, unit, units, members, factors))


def _product_factors(
    table: Table, unit: str, members: tuple[str, ...], units: Mapping[str, str]
) -> tuple[float, ...]:
    """Ratios count as bare factors; the first member also carries the result's own unit."""
    bare = is_ratio(unit)
    factors = [conversion(units[m], "x" if is_ratio(units[m]) or bare else unit) for m in members]
    checked = _checked(table, "product", unit, units, members, factors)
    checked[0] *= (conversion("x", unit) or 1.0) if bare else 1.0
    return tuple(checked)


def _checked(
    table: Table,
    operation: str,
    unit: str,
    units: Mapping[str, str],
    members: tuple[str, ...],
    factors: Sequence[float | None],
) -> list[float]:
    for member, factor in zip(members, factors, strict=True):
        if factor is None:
            raise table.fail(
                operation, member, f"a unit that matches {unit or 'none'}, not {units[member]!r}"
            )
    return [factor for factor in factors if factor is not None]
