"""What a peak attempt makes of its search: the run to ask for, the setting to keep."""

from dataclasses import dataclass
from functools import cached_property

from planner.domain.terms import USUAL, Terms
from planner.gate import Gate
from planner.history import History, taken_over
from planner.peak.candidates import candidates
from planner.peak.choosing import Pick, pick
from planner.peak.confirming import confirming
from planner.peak.forecast import AHEAD, Forecast, forecast_of
from planner.peak.keeping import Kept, kept
from planner.peak.screening import Screen, after_screen, screen_for
from planner.peak.search import PeakSearch, peak_search
from planner.peak.space import Rows


@dataclass(frozen=True)
class PeakPlan:
    """Each worked out once, whoever asks."""

    search: PeakSearch

    @property
    def history(self) -> History:
        """All that it is determined by."""
        return self.search.history

    @property
    def gate(self) -> Gate:
        """What may be proposed."""
        return self.search.gate

    @cached_property
    def best(self) -> Pick | None:
        """The setting to try; None where nothing is left to gain."""
        return after_screen(self.search, self.offered, pick(self.search, self.offered))

    @cached_property
    def screen(self) -> Screen | None:
        """The short run to make first at the setting to try; None: none pays."""
        return None if self.best is None else screen_for(self.search, self.best)

    @cached_property
    def confirming(self) -> Pick | None:
        """The best once more, in place of the setting to try; None: not yet, or not needed."""
        return confirming(self.search, self.best)

    @property
    def chosen(self) -> Pick | None:
        """The setting to ask for; None where nothing is left to run."""
        return self.confirming or self.best

    @cached_property
    def kept(self) -> Kept:
        """The setting to keep."""
        return kept(self.search, self.offered)

    @cached_property
    def ahead(self) -> Forecast:
        """How the next half hour may go."""
        return forecast_of(self.search, self.offered, AHEAD)

    @cached_property
    def offered(self) -> Rows:
        """Settings worth a look; before anything scored the stock one alone."""
        search = self.search
        return candidates(search) if search.scored else search.space.rows([search.base])

    def carried_to(self, history: History) -> "PeakPlan":
        """The plan under a later history that tells no more runs; the machine may have changed."""
        later = PeakPlan(self.search.carried_to(history))
        return taken_over(self, later, ("offered", "kept", "ahead"))


def peak_plan(history: History, terms: Terms = USUAL) -> PeakPlan:
    """The plan after `history`."""
    return PeakPlan(peak_search(history, terms))
