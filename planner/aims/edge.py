"""Aim `edge`: where one knob stops holding."""

from planner.aims.aiming import Body, Kept, edges_beside
from planner.errors import DefinitionError
from planner.history import History
from planner.models.edge_search import EdgeSearch, edge_search
from planner.models.findings import Edge, Recommendation, recommend
from planner.proposing import asked_of, choose, proposal_entry
from planner.stopping import closing_reason, kept


class EdgeAim:
    """The answers about one knob's edge."""

    def __init__(self) -> None:
        """Nothing is known yet."""
        self._searches = Kept(_begun, EdgeSearch.carried_to)

    def next_entry(
        self, history: History, boot_mark: str, everyday_only: bool = False
    ) -> tuple[Body | None, str]:
        """The body of the entry that asks for the next run, or None and the reason to close."""
        search = self._searches.of(history, everyday_only)
        if reason := closing_reason(search):
            return None, reason
        choice = choose(search)
        if choice is None:
            return None, "the strategy has no run left to ask for"
        return proposal_entry(history, search.gate, asked_of(search, choice), boot_mark), ""

    def closing(self, history: History) -> str | None:
        """The reason to close; None while runs are worth making."""
        return closing_reason(self._searches.of(history))

    def recommendation(self, history: History, everyday_only: bool) -> Recommendation:
        """The setting to keep as things stand."""
        search = self._searches.of(history, everyday_only)
        return recommend(search, kept(search) if search.values else None)

    def edges(self, history: History) -> dict[str, Edge]:
        """The edge of every knob with a range, the others at the study's values."""
        return edges_beside(history, self._searches.of(history).base)


def _begun(history: History, everyday_only: bool) -> EdgeSearch:
    found = edge_search(history, everyday_only)
    if found is None:
        raise DefinitionError("study.toml: [[knob]]: expected one with low, high and step")
    return found
