"""Accepting the risk above an everyday ceiling: by name, up to a typed value, never past a stop."""

from typing import Any

from planner.domain.quantity import parse_number, with_unit
from planner.errors import InputError, RecordError
from planner.history import History


def acceptance_entry(history: History, name: str, up_to: object) -> dict[str, Any]:
    """The body of an `accepted` entry.

    Raises:
        RecordError: no such knob or derived value, no own-risk ceiling, or a value that is not
            above the everyday ceiling and at or under the own-risk one.
    """
    definition = history.definition
    noun = definition.knobs.get(name) or definition.derived.get(name)
    ceilings = definition.guarded.get(name)
    if noun is None or ceilings is None:
        known = ", ".join(n for n, c in definition.guarded.items() if c.own_risk is not None)
        raise RecordError(f"accept-risk {name}: expected one of {known or 'none has own_risk'}")
    if ceilings.own_risk is None or ceilings.everyday is None:
        raise RecordError(
            f"accept-risk {name}: has no own_risk ceiling in study.toml, so there is no region"
            " at your own risk to accept"
        )
    try:
        value = parse_number(up_to, noun.unit, f"accept-risk {name}: up to")
    except InputError as error:
        raise RecordError(str(error)) from None
    top = min(ceilings.own_risk, ceilings.last or ceilings.own_risk)
    if not ceilings.everyday <= value <= top:
        raise RecordError(
            f"accept-risk {name}: up to {with_unit(value, noun.unit)}: expected from the everyday"
            f" ceiling of {with_unit(ceilings.everyday, noun.unit)}, which takes it back, to"
            f" {with_unit(top, noun.unit)}"
        )
    return {"name": name, "up_to": value}
