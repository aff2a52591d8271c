"""What a search over many knobs is after: what a setting is worth, and which knobs it may turn."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from planner.domain.definition import Definition
from planner.domain.knob import Knob, Value
from planner.history import History
from planner.models.hazard import Array
from planner.models.joint.evidence import ROOM
from planner.models.joint.response import response_of


class Answering(Protocol):
    """How what is wished for answers to the knobs."""

    @property
    def noise(self) -> float:
        """Run-to-run standard deviation of it."""
        ...

    def predict(self, at: Array, room: float = ROOM) -> tuple[Array, Array]:
        """Mean and standard deviation at coordinates (m, q), two of shape (m,)."""
        ...

    def coordinates(self, settings: Sequence[Mapping[str, Value]]) -> Array:
        """Of complete settings, shape (m, q)."""
        ...


@dataclass(frozen=True)
class Wish:
    """What an aim wants of a setting."""

    answer: Callable[[History], Answering | None]
    """What is to be raised, on a log scale; None while nothing tells."""
    turns: Callable[[Definition, Knob], bool]
    """Whether the aim turns a knob at all."""
    scores: bool
    """Whether only runs with a score count; else all that passed, by what they are worth."""
    lifts: Callable[[Knob], bool]
    """Whether a knob is raised to help others, rather than for what it is worth itself."""


def lifts_others(knob: Knob) -> bool:
    """Whether it moves others' edges by how high it stands, as a voltage does."""
    return bool(knob.supports) and knob.grid is not None


SCORE = Wish(response_of, lambda definition, knob: True, True, lifts_others)
"""The best score."""
