"""From the fields of the page's forms to what the study records, and back."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from planner.domain.knob import Value
from planner.domain.outcome import Outcome
from planner.domain.quantity import format_number
from planner.domain.run import Run
from planner.entries.facts import checked_facts
from planner.errors import RecordError
from planner.history import History

READING, PART, KNOB = "reading:", "part:", "knob:"
"""What the names of the fields of readings, parts of the score and knobs begin with."""
_FACTS = {
    "score": "score",
    "failed_after": "failed_after_s",
    "errors": "errors",
    "held": "run_minutes",
    "symptom": "symptom",
    "note": "note",
}
"""Field of the form: the fact that the study calls it."""
_TABLES = {READING: "readings", PART: "subscores", KNOB: "settings"}
_NEEDED = ("run_minutes", "settings")
"""Facts that no run is without: left blank they stay as they are."""


@dataclass(frozen=True, slots=True)
class Answer:
    """How a run ended, as it was told on the page."""

    number: int
    """The run that the page showed; of an own run, the lowest number that it can have got."""
    outcome: str
    facts: Mapping[str, Any]
    """As `Study.record` takes them."""
    blank: frozenset[str]
    """Facts whose field was left empty."""
    asked: str = ""
    """When the run was asked for; empty: not told."""
    emptied: tuple[str, ...] = ()
    """Knobs whose field was left empty."""


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
    blank = {_FACTS[name] for name in _FACTS if name in fields and name not in told}
    for opening, fact in _TABLES.items():
        named = {n.removeprefix(opening): x for n, x in told.items() if n.startswith(opening)}
        if named:
            facts[fact] = named
        elif any(name.startswith(opening) for name in fields):
            blank.add(fact)
    knobs = [name for name in fields if name.startswith(KNOB) and name not in told]
    emptied = tuple(name.removeprefix(KNOB) for name in knobs)
    asked = fields.get("asked", "")
    return Answer(int(number), outcome, facts, frozenset(blank), asked, emptied)


def says(history: History, run: Run, answer: Answer) -> bool:
    """Whether a run is on record just as an answer says."""
    try:
        facts = checked_facts(history, run.workload, answer.facts)
    except RecordError:
        return False
    blank = not any(getattr(run, name) for name in answer.blank if name not in _NEEDED)
    told = all(_stands(run, name, value) for name, value in facts.items())
    return blank and told and run.outcome == answer.outcome


def mended_facts(history: History, run: Run, answer: Answer) -> dict[str, Any]:
    """What an answer would change in a run on record; a field emptied takes its fact back.

    Raises:
        RecordError: a fact that cannot be.
    """
    if answer.emptied:
        raise RecordError(f"{answer.emptied[0]}: expected the value that was set, found nothing")
    facts = checked_facts(history, run.workload, answer.facts)
    changed = {name: value for name, value in facts.items() if not _stands(run, name, value)}
    if "settings" in changed:  # only what differs: the others stay as they were told
        changed["settings"] = {
            knob: value
            for knob, value in changed["settings"].items()
            if not _stands(run, "settings", {knob: value})
        }
    gone = {name: None for name in answer.blank if name not in _NEEDED and getattr(run, name)}
    if run.outcome != answer.outcome:
        changed["outcome"] = answer.outcome
        if "run_minutes" in facts:  # needed to call a run stopped, even where it stays the same
            changed["run_minutes"] = facts["run_minutes"]
    return changed | gone


def fields_of(run: Run) -> dict[str, str]:
    """What a form holds so that it says of a run what is on record."""
    stopped = run.outcome is Outcome.STOPPED  # else its length is the workload's
    told = {
        "score": "" if run.score is None else format_number(run.score),
        "failed_after": ""
        if run.failed_after_s is None
        else f"{format_number(run.failed_after_s)}s",
        "errors": str(run.errors or ""),
        "held": format_number(run.run_minutes) if stopped else "",
        "symptom": run.symptom,
        "note": run.note,
    }
    told |= {f"{READING}{name}": format_number(value) for name, value in run.readings.items()}
    return told | {f"{PART}{name}": format_number(value) for name, value in run.subscores.items()}


def typed_value(value: Value) -> str:
    """A knob's value as it stands in a field."""
    return value if isinstance(value, str) else format_number(value)


def _stands(run: Run, name: str, value: Any) -> bool:
    """Whether a checked fact is on record of a run; of tables, each value named."""
    known = getattr(run, name)
    if name == "settings":
        set_to = {**run.ran, **known}  # of a knob that is newer than the run: its stock value
        return all(typed_value(set_to[knob]) == typed_value(part) for knob, part in value.items())
    return bool(known == value)
