"""The `[[knob]]` table: a range or choices, a stock value, ceilings."""

from typing import Any

from planner.domain.ceilings import Ceilings
from planner.domain.grid import Grid
from planner.domain.knob import Harder, Knob, Where
from planner.domain.quantity import canonical_unit
from planner.domain.table import Table


def parse_knob(table: Table) -> Knob:
    """One `[[knob]]` table."""
    name = table.name()
    unit = canonical_unit(table.text_or("unit", at_most=20))
    harder = table.one_of("harder", Harder, Harder.UP)
    grid, choices = _range(table, unit, harder)
    raw_stock = table.required("stock")
    stock = raw_stock if grid is None else table.to_number("stock", raw_stock, unit)
    if grid is not None:
        index = grid.index(stock)
        stock = stock if index is None else grid.value(index)
    elif not isinstance(stock, str):
        stock = table.to_number("stock", stock, unit)
    expected = table.pair("expected", unit)
    ceilings = parse_ceilings(table, unit)
    fields: dict[str, Any] = {
        "group": table.text_or("group", at_most=60),
        "supports": table.names("supports"),
        "where": table.one_of("where", Where, Where.FIRMWARE),
        "change_minutes": table.number_or("change_minutes", 0.3, "min"),
        "each": table.whole_or("each", 1, 1, 256),
        "frozen": table.flag_or("frozen", False),
        "cools": table.flag_or("cools", False),
    }
    table.done()
    return table.checked(
        lambda: Knob(
            name=name,
            unit=unit,
            harder=harder,
            grid=grid,
            choices=choices,
            stock=stock,
            expected=expected,
            ceilings=ceilings,
            **fields,
        )
    )


def _range(table: Table, unit: str, harder: Harder) -> tuple[Grid | None, tuple[float | str, ...]]:
    raw = table.take("choices")
    low, high, step = (table.number(key, unit) for key in ("low", "high", "step"))
    if harder is Harder.CHOICE:
        if not isinstance(raw, (list, tuple)) or not raw:
            raise table.fail("choices", raw, "a list of the values to choose from")
        for key, value in (("low", low), ("high", high), ("step", step)):
            if value is not None:
                raise table.fail(key, value, "no range beside choices")
        if not all(_short(v) for v in raw if isinstance(v, str)):
            raise table.fail("choices", list(raw), "numbers, or texts of 40 printable characters")
        choices = tuple(
            v if isinstance(v, str) else table.to_number("choices", v, unit) for v in raw
        )
        if len(set(choices)) != len(choices):
            raise table.fail("choices", list(raw), "each value once")
        return None, choices
    if raw is not None:
        raise table.fail("choices", raw, 'harder = "choice" beside choices')
    if low is None or high is None or step is None:
        missing = "low" if low is None else "high" if high is None else "step"
        raise table.missing(missing)
    return table.checked(lambda: Grid(low, high, step)), ()


def _short(text: str) -> bool:
    return text.isprintable() and 0 < len(text) <= 40


def parse_ceilings(table: Table, unit: str) -> Ceilings:
    """The three ceilings of a knob or derived value."""
    everyday, own_risk, hard_stop = (
        table.number(key, unit) for key in ("everyday", "own_risk", "hard_stop")
    )
    return table.checked(lambda: Ceilings(everyday, own_risk, hard_stop))
