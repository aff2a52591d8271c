"""Aim `frontier`: one knob's edge along a second."""

from planner import tracing
from planner.aims.aiming import Body, Kept, edges_beside
from planner.errors import DefinitionError
from planner.history import History
from planner.models.findings import Edge, Recommendation, recommend
from planner.models.frontier.findings import Frontier
from planner.models.frontier.search import FrontierSearch, frontier_search
from planner.proposing import asked_of, proposal_entry
from planner.stopping import kept


class FrontierAim:
    """The answers about a frontier."""

    def __init__(self) -> None:
        """Nothing is known yet."""
        self._searches = Kept(_begun, FrontierSearch.carried_to)

    def next_entry(
        self, history: History, boot_mark: str, everyday_only: bool = False
    ) -> tuple[Body | None, str]:
        """The body of the entry that asks for the next run, or None and the reason to close."""
        frontier = self._searches.of(history, everyday_only)
        if reason := tracing.closing_reason(frontier):
            return None, reason
        chosen = tracing.choose(frontier)
        if chosen is None:
            return None, "the strategy has no run left to ask for"
        return proposal_entry(history, frontier.gate, asked_of(*chosen), boot_mark), ""

    def closing(self, history: History) -> str | None:
        """The reason to close; None while runs are worth making."""
        return tracing.closing_reason(self._searches.of(history))

    def recommendation(self, history: History, everyday_only: bool) -> Recommendation:
        """The point to keep as things stand."""
        frontier = self._searches.of(history, everyday_only)
        point = tracing.best_point(frontier) or frontier.root
        return recommend(point, kept(point) if point.values else None)

    def edges(self, history: History) -> dict[str, Edge]:
        """The edge of every knob with a range, the others at the study's values."""
        return edges_beside(history, self._searches.of(history).base)

    def traced(self, history: History) -> Frontier:
        """The edge of the study's knob along its second."""
        return tracing.found(self._searches.of(history))


def _begun(history: History, everyday_only: bool) -> FrontierSearch:
    found = frontier_search(history, everyday_only)
    if found is None:
        along = history.definition.goal.along
        raise DefinitionError(
            f"study.toml: [study]: along = {along!r}: expected the name of a second knob that"
            " has low, high and step"
        )
    return found
