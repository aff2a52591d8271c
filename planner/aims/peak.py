"""Aim `peak`: the best score that can be claimed, over all knobs at once."""

from planner.aims.aiming import Body, Kept
from planner.history import History
from planner.models.findings import Edge, Recommendation
from planner.peak.asking import asked
from planner.peak.blame import Blame, blame_of
from planner.peak.closing import closing_reason
from planner.peak.findings import edges, recommend
from planner.peak.search import PeakSearch, peak_search
from planner.proposing import proposal_entry


class PeakAim:
    """The answers about a score, and about what failed a run."""

    def __init__(self) -> None:
        """Nothing is known yet."""
        self._searches = Kept(peak_search, PeakSearch.carried_to)

    def next_entry(
        self, history: History, boot_mark: str, everyday_only: bool = False
    ) -> tuple[Body | None, str]:
        """The body of the entry that asks for the next run, or None and the reason to close."""
        search = self._searches.of(history, everyday_only)
        if reason := closing_reason(search):
            return None, reason
        chosen = asked(search)
        if chosen is None:
            return None, "no permitted setting is left to try"
        return proposal_entry(history, search.gate, chosen, boot_mark), ""

    def closing(self, history: History) -> str | None:
        """The reason to close; None while runs are worth making."""
        return closing_reason(self._searches.of(history))

    def recommendation(self, history: History, everyday_only: bool) -> Recommendation:
        """The setting to keep as things stand."""
        return recommend(self._searches.of(history, everyday_only))

    def edges(self, history: History) -> dict[str, Edge]:
        """The edge of every knob that can fail, supports and data rate at the setting to keep."""
        return edges(self._searches.of(history))

    def blame(self, history: History, run: int) -> Blame:
        """Which knob a failed run is blamed on.

        Raises:
            RecordError: no such run, or it did not fail.
        """
        return blame_of(self._searches.of(history), run)
