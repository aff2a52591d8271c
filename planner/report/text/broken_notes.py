"""Rules kept as notes that a setting breaks, in words and figures."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from planner.domain.definition import Definition
from planner.domain.knob import Value
from planner.domain.quantity import format_number
from planner.domain.run import Run
from planner.domain.tables import Rule, RuleKind
from planner.history import History

_REMEMBERED = 50
"""Runs back to which a note is remembered as told."""


@dataclass(frozen=True, slots=True)
class BrokenNote:
    """A note that does not hold, with what stands on each side of its sign."""

    rule: Rule
    sides: tuple[float, float] | None
    """Left and right; None where one of them divides by zero."""
    at_stock: bool
    """Whether stock breaks it as well, so that it is no news."""

    @property
    def text(self) -> str:
        """The rule as it is written, and its two sides in figures."""
        written = f"{self.rule.name}, {self.rule.holds.text}"
        if self.sides is None:
            return f"{written} (it divides by zero)"
        left, right = (format_number(round(side, 2)) for side in self.sides)
        return f"{written} ({left} against {right})"

    @property
    def document(self) -> dict[str, Any]:
        """The same for programs."""
        return {
            "name": self.rule.name,
            "holds": self.rule.holds.text,
            "sides": None if self.sides is None else list(self.sides),
            "at_stock": self.at_stock,
        }


def broken_notes(definition: Definition, setting: Mapping[str, Value]) -> list[BrokenNote]:
    """The notes that a complete setting breaks, in the order of the file."""
    numbers, stock = definition.numbers(setting), definition.numbers(definition.stock)
    return [
        BrokenNote(rule, _sides(rule, numbers), _breaks(rule, stock))
        for rule in definition.rules
        if rule.kind is RuleKind.NOTE and _breaks(rule, numbers)
    ]


def news_of_notes(definition: Definition, setting: Mapping[str, Value]) -> list[str]:
    """The notes that the setting breaks though stock keeps them, each in words."""
    return [note.text for note in broken_notes(definition, setting) if not note.at_stock]


def notes_to_tell(history: History, setting: Mapping[str, Value]) -> list[str]:
    """The same for a proposal: by name alone where a run before broke it, so was it told then."""
    definition = history.definition
    broken = [note for note in broken_notes(definition, setting) if not note.at_stock]
    late = history.runs[-_REMEMBERED:]
    told = [note.rule for note in broken if any(_ran_against(note.rule, history, r) for r in late)]
    fresh = [note.text for note in broken if note.rule not in told]
    if told:
        fresh.append(f"{', '.join(rule.name for rule in told)}, as a run before did")
    return fresh


def _ran_against(rule: Rule, history: History, run: Run) -> bool:
    """Whether a run broke a rule; a knob that was added later stood at stock."""
    definition = history.definition
    return _breaks(rule, definition.numbers({**definition.stock, **run.ran}))


def _breaks(rule: Rule, numbers: Mapping[str, float]) -> bool:
    return rule.holds.names <= numbers.keys() and not rule.holds(numbers)


def _sides(rule: Rule, numbers: Mapping[str, float]) -> tuple[float, float] | None:
    try:
        left, right = rule.holds.sides(numbers)
    except ZeroDivisionError:
        return None
    return float(left), float(right)
