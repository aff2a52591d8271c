"""Taking over an edited definition."""

from typing import Any

from planner.domain.parse import parse_text
from planner.errors import DefinitionError
from planner.history import History


def defined_entry(history: History | None, text: str) -> dict[str, Any]:
    """The body of a `defined` entry.

    Raises:
        DefinitionError: it cannot be read, or a knob that runs speak of became another quantity.
    """
    definition = parse_text(text)
    earlier = history.definition.knobs if history is not None and history.runs else {}
    for name, knob in definition.knobs.items():
        before = earlier.get(name)
        if before is not None and before.unit != knob.unit:
            raise DefinitionError(
                f"study.toml: [[knob]] {name}: unit = {knob.unit!r}: runs are on record in"
                f" {before.unit!r}; expected that unit, or a new name for another quantity"
            )
    return {"text": text}
