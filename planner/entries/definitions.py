"""Taking over an edited definition."""

from typing import Any

from planner.domain.definition import Definition
from planner.domain.parse import parse_text
from planner.errors import DefinitionError
from planner.history import History


def defined_entry(history: History | None, text: str) -> dict[str, Any]:
    """The body of a `defined` entry.

    Raises:
        DefinitionError: it cannot be read, or what runs or accepted risks speak of would become
            another quantity.
    """
    definition = parse_text(text)
    if history is not None and (history.runs or history.accepted or history.pending):
        before, after = _units(history.definition), _units(definition)
        for (table, name), unit in after.items():
            if (earlier := before.get((table, name), unit)) != unit:
                raise DefinitionError(
                    f"study.toml: [[{table}]] {name}: unit = {unit!r}: the ledger speaks of it in"
                    f" {earlier!r}; expected that unit, or a new name for another quantity"
                )
    return {"text": text}


def _units(definition: Definition) -> dict[tuple[str, str], str]:
    units = {("knob", name): knob.unit for name, knob in definition.knobs.items()}
    units |= {("derived", name): noun.unit for name, noun in definition.derived.items()}
    return units | {("reading", name): noun.unit for name, noun in definition.readings.items()}
