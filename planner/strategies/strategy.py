"""What every strategy is: one pure function of the search as its history tells it."""

from dataclasses import dataclass
from typing import Protocol

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

    def choose(self, search: EdgeSearch) -> Choice | None:
        """The next value to run; None once there is nothing left to ask."""
        ...
