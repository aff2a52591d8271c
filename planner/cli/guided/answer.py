"""What a line typed at the prompt can come to."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum, auto
from typing import Any

from planner.domain.knob import Value
from planner.domain.outcome import Outcome


@dataclass(frozen=True, slots=True)
class Answer:
    """How a run ended."""

    outcome: Outcome
    facts: Mapping[str, Any]
    """As `Study.record` takes them, numbers in the study's units."""
    settings: Mapping[str, Value] | None = None
    """Of a run of the person's own, the knobs named; None: it answers what was asked."""


class Wish(Enum):
    """What a person may want other than to answer."""

    NOTHING = auto()
    """An empty line."""
    UNDO = auto()
    NOTE = auto()
    SHOW = auto()
    PLOT = auto()
    AGAIN = auto()
    """See the proposal once more."""
    SKIP = auto()
    HELP = auto()
    QUIT = auto()


@dataclass(frozen=True, slots=True)
class Order:
    """A wish, with the words that belong to it."""

    wish: Wish
    words: str = ""


@dataclass(frozen=True, slots=True)
class Complaint:
    """What was not understood, and what was expected."""

    text: str
