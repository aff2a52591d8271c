"""From the fields of the page's form to what the study records."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from planner.errors import RecordError

READING, PART = "reading:", "part:"
"""What the names of the fields of readings and parts of the score begin with."""
_FACTS = {
    "score": "score",
    "failed_after": "failed_after_s",
    "errors": "errors",
    "held": "run_minutes",
    "symptom": "symptom",
    "note": "note",
}
"""Field of the form: the fact that the study calls it."""
_TABLES = {READING: "readings", PART: "subscores"}


@dataclass(frozen=True, slots=True)
class Answer:
    """How a run ended, as it was told on the page."""

    number: int
    """The run that the page showed."""
    outcome: str
    facts: Mapping[str, Any]
    """As `Study.record` takes them."""


def answer_in(fields: Mapping[str, str]) -> Answer:
    """The answer that a form holds; blank fields say nothing.

    Raises:
        RecordError: the run or how it ended is missing.
    """
    number, outcome = fields.get("run", ""), fields.get("outcome", "")
    if not (number.isascii() and number.isdigit() and len(number) < 10):
        raise RecordError(f"run = {number[:20]!r}: expected the number of the run that was shown")
    if not outcome:
        raise RecordError("the Enter key records nothing: press the button that says how it ended")
    told = {name: text.strip() for name, text in fields.items() if text.strip()}
    facts: dict[str, Any] = {_FACTS[name]: told[name] for name in _FACTS if name in told}
    for opening, fact in _TABLES.items():
        named = {n.removeprefix(opening): x for n, x in told.items() if n.startswith(opening)}
        if named:
            facts[fact] = named
    return Answer(int(number), outcome, facts)
