"""The `[[workload]]` table: what is run, how its score is made, which scores to beat."""

from collections.abc import Mapping

from planner.domain.combining import Combining
from planner.domain.table import Table
from planner.domain.tables import Workload


def parse_workload(table: Table) -> Workload:
    """One `[[workload]]` table."""
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
        combine=_parse_combining(table, subscores),
        beat=table.numbers("beat"),
        version=table.text_or("version", at_most=60),
        timed_outside=table.flag_or("timed_outside", False),
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


def _parse_combining(
    table: Table, subscores: tuple[tuple[str, float | None], ...]
) -> Combining | None:
    raw = table.peek("combine")
    if raw is None:
        return None
    if len(subscores) < 2:
        raise table.fail("combine", raw, "subscores = [...] with two names or more beside it")
    return table.one_of("combine", Combining, Combining.ARITHMETIC)
