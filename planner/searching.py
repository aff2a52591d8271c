"""What a study answers from the model: the next run, the value to keep, edges, when to close."""

from typing import Any

from planner import tracing
from planner.domain.knob import Harder
from planner.domain.tables import Aim
from planner.errors import DefinitionError
from planner.history import History
from planner.models.edge_search import EdgeSearch, edge_search
from planner.models.findings import Edge, Recommendation, edge_of, recommend
from planner.models.frontier.findings import Frontier
from planner.models.frontier.search import FrontierSearch, frontier_search
from planner.proposing import choose, proposal_entry
from planner.stopping import closing_reason, kept


class Searching:
    """Answers for one history after another; what no new run has changed is worked out once."""

    def __init__(self) -> None:
        """Nothing is known yet."""
        self._known: dict[bool, EdgeSearch] = {}
        self._traced: dict[bool, FrontierSearch] = {}

    def next_entry(self, history: History, boot_mark: str) -> tuple[dict[str, Any] | None, str]:
        """The body of the entry that asks for the next run, or None and the reason to close.

        Raises:
            DefinitionError: an aim that no strategy serves, or no knob with a range.
            ForbiddenSetting: the strategy asked for what the gate forbids.
        """
        aim = history.definition.goal.aim
        if aim is Aim.FRONTIER:
            return self._next_on_frontier(self.frontier(history), boot_mark)
        if aim is not Aim.EDGE:
            raise DefinitionError(
                f'study.toml: [study]: aim = "{aim}": this version searches the edge of one knob,'
                ' expected aim = "edge" or "frontier"'
            )
        search = self.search(history)
        if reason := closing_reason(search):
            return None, reason
        choice = choose(search)
        if choice is None:
            return None, "the strategy has no run left to ask for"
        return proposal_entry(search, choice, boot_mark), ""

    def _next_on_frontier(
        self, frontier: FrontierSearch, boot_mark: str
    ) -> tuple[dict[str, Any] | None, str]:
        if reason := tracing.closing_reason(frontier):
            return None, reason
        chosen = tracing.choose(frontier)
        if chosen is None:
            return None, "the strategy has no run left to ask for"
        return proposal_entry(*chosen, boot_mark), ""

    def closing(self, history: History) -> str | None:
        """The reason to close; None while runs are worth making."""
        if history.definition.goal.aim is Aim.FRONTIER:
            return tracing.closing_reason(self.frontier(history))
        return closing_reason(self.search(history))

    def recommendation(self, history: History, everyday_only: bool) -> Recommendation:
        """The setting to keep as things stand."""
        if history.definition.goal.aim is Aim.FRONTIER:
            frontier = self.frontier(history, everyday_only)
            point = tracing.best_point(frontier) or frontier.root
            return recommend(point, kept(point) if point.values else None)
        search = self.search(history, everyday_only)
        return recommend(search, kept(search) if search.values else None)

    def edges(self, history: History) -> dict[str, Edge]:
        """The edge of every knob with a range, the others at the study's values."""
        base = self.search(history).base
        knobs = history.definition.knobs.values()
        return {k.name: edge_of(history, k, base) for k in knobs if k.harder is not Harder.CHOICE}

    def traced(self, history: History) -> Frontier:
        """The edge of the study's knob along its second."""
        return tracing.found(self.frontier(history))

    def frontier(self, history: History, everyday_only: bool = False) -> FrontierSearch:
        """The search of the study's knob along its second.

        Raises:
            DefinitionError: one of the two knobs has no range.
        """
        known = self._traced.get(everyday_only)
        if known is not None and known.history is history:
            return known
        found: FrontierSearch | None
        if known is not None and known.history.searched_like(history):
            found = known.carried_to(history)
        else:
            found = frontier_search(history, everyday_only)
        if found is None:
            along = history.definition.goal.along
            raise DefinitionError(
                f"study.toml: [study]: along = {along!r}: expected the name of a second knob that"
                " has low, high and step"
            )
        self._traced[everyday_only] = found
        return found

    def search(self, history: History, everyday_only: bool = False) -> EdgeSearch:
        """The search of the study's knob.

        Raises:
            DefinitionError: no knob has a range.
        """
        known = self._known.get(everyday_only)
        if known is not None and known.history.searched_like(history):
            found: EdgeSearch | None = (
                known if known.history is history else known.carried_to(history)
            )
        else:
            found = edge_search(history, everyday_only)
        if found is None:
            raise DefinitionError("study.toml: [[knob]]: expected one with low, high and step")
        self._known[everyday_only] = found
        return found
