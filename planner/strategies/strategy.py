"""What every strategy is: one pure function of the search as its history tells it."""

from dataclasses import dataclass
from typing import ClassVar, Protocol

from planner.models.edge_search import EdgeSearch


@dataclass(frozen=True, slots=True)
class Choice:
    """The value to run next and why."""

    value: float
    """Of the searched knob, in its unit."""
    reason: str
    """One sentence, in bench language."""
    cold_start: bool = False
    """Whether the run should begin from a cold boot."""


class Strategy(Protocol):
    """Keeps no state: the same history gives the same choice, in any process."""

    modelled: ClassVar[bool]
    """Whether the model's closing rules end it; else it ends when it has nothing left to ask."""

    def keep(self, search: EdgeSearch) -> float | None:
        """The value to keep as things stand; None where none holds."""
        ...

    def choose(self, search: EdgeSearch) -> Choice | None:
        """The next value to run; None once there is nothing left to ask."""
        ...
