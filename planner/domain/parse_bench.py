"""The tables of the bench and of what is shown of it: `[rig]`, `[mains]`, `[claim_rules]`."""

from collections.abc import Set
from dataclasses import dataclass
from functools import partial

from planner.domain.claim_rules import ClaimRules
from planner.domain.expression import Inequality, parse_inequality
from planner.domain.mains import Code, Mains
from planner.domain.memory import Standard
from planner.domain.table import Table
from planner.domain.tables import Part, Rig


def parse_rig(table: Table) -> Rig:
    """The `[rig]` table."""
    raw = table.take("parts")
    if raw is not None and not isinstance(raw, (list, tuple)):
        raise table.fail("parts", raw, 'a list such as [{ name = "board", price = 200 }]')
    parts = tuple(_parse_part(Table(p, f"{table.where}: parts")) for p in raw or ())
    told = table.peek("memory") is not None
    memory = table.one_of("memory", Standard, Standard.DDR5)
    rig = Rig(
        parts=parts,
        reboot_minutes=table.number_or("reboot_minutes", 2.0, "min"),
        slots=table.names("slots"),
        memory=memory if told else None,
        cooling=table.text_or("cooling", at_most=60),
        cost_brackets=table.numbers("cost_brackets"),
        currency=table.text_or("currency", at_most=10),
    )
    table.done()
    return rig


def _parse_part(table: Table) -> Part:
    part = Part(table.label(), table.number("price", at_least=0.0))
    table.done()
    return part


def parse_mains(table: Table) -> Mains:
    """The `[mains]` table."""
    volts, amps = table.number("volts", "V"), table.number("amps", "A")
    if volts is None or amps is None:
        raise table.missing("volts" if volts is None else "amps")
    other_watts = table.number_or("other_watts", 0.0, "W")
    power_factor, efficiency = table.number_or("power_factor", 1.0), table.number("efficiency")
    code = table.one_of("code", Code, Code.OTHER)
    table.done()
    return table.checked(lambda: Mains(volts, amps, other_watts, power_factor, efficiency, code))


@dataclass(frozen=True, slots=True)
class Known:
    """What the rest of a definition speaks of, by name."""

    values: Set[str]
    """Knobs and derived values."""
    knobs: Set[str]
    readings: Set[str]
    workloads: Set[str]
    brackets: Set[str]


def parse_claim_rules(table: Table, known: Known) -> ClaimRules:
    """The `[claim_rules]` table."""
    rules = ClaimRules(
        workload=_one(table, "workload", known.workloads, "workloads"),
        version=table.text_or("version", at_most=60),
        subscores=table.flag_or("subscores", False),
        readings=_known(table, "readings", known.readings, "readings"),
        pictures=table.names("pictures"),
        cooling=table.names("cooling"),
        bracket=_one(table, "bracket", known.brackets, "cost_brackets in [rig]"),
        settings=_inequalities(table, known.values),
        trusted_clock=_known(table, "trusted_clock", known.knobs, "knobs"),
        also=table.names("also"),
    )
    table.done()
    return rules


def _one(table: Table, key: str, known: Set[str], kind: str) -> str:
    name = table.text_or(key, at_most=60)
    if name and name not in known:
        listed = ", ".join(sorted(known)) or "none"
        raise table.fail(key, name, f"one of the {kind}: {listed}")
    return name


def _known(table: Table, key: str, known: Set[str], kind: str) -> tuple[str, ...]:
    names = table.names(key)
    for name in names:
        if name not in known:
            listed = ", ".join(sorted(known)) or "none"
            raise table.fail(key, name, f"names of {kind}: {listed}")
    return names


def _inequalities(table: Table, names: Set[str]) -> tuple[Inequality, ...]:
    found = []
    for written in table.names("settings"):
        holds = table.checked(partial(parse_inequality, written))
        for unknown in sorted(holds.names - names):
            raise table.fail("settings", unknown, "names of knobs or derived values")
        found.append(holds)
    return tuple(found)
