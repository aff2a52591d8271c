"""How a study stands: the frozen summary that `show` is drawn from."""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.domain.ledger import Head
from planner.history import History
from planner.models.findings import Edge, Recommendation
from planner.models.frontier.findings import Frontier


@dataclass(frozen=True, slots=True)
class Standing:
    """Everything that the summary of a study shows."""

    history: History
    edges: Mapping[str, Edge]
    best: Recommendation
    everyday: Recommendation | None
    """The best setting under everyday ceilings; None where no risk was accepted."""
    closing: str | None
    """The reason to close; None while runs are worth making."""
    head: Head
    frontier: Frontier | None = None
    """The edge along the second knob, where that is the aim."""


def void_minutes(history: History) -> float:
    """Bench minutes that went into void runs, in none of the other sums."""
    return sum(run.minutes for run in history.runs if run.outcome == "void")


def short_head(head: Head) -> str:
    """The head as it is printed and typed: number, and the first 16 hex digits of the chain."""
    return f"{head.seq}:{head.chain[:16]}"
