"""What a run came to."""

from dataclasses import dataclass
from typing import Any

from planner.domain.outcome import Outcome


@dataclass(frozen=True, slots=True)
class Result:
    """As `Study.record` takes it, and what it means for the drive."""

    outcome: Outcome
    facts: dict[str, Any]
    not_set: bool = False
    """Whether the values could not be set, so that the workload did not run."""
    blind: str = ""
    """Why nothing more may be run unattended; empty: it may."""
    down: bool = False
    """Whether the machine under test went down, by its heartbeat."""


def void(note: str) -> Result:
    """It says nothing."""
    return Result(Outcome.VOID, {"note": note})
