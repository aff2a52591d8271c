"""What a study answers from the model: the aim of its definition speaks."""

from functools import cached_property
from typing import TYPE_CHECKING, Any

from planner.domain.tables import Aim
from planner.domain.terms import USUAL, Terms
from planner.errors import InputError
from planner.history import History
from planner.models.findings import Edge, Recommendation

if TYPE_CHECKING:
    from planner.aims.answers import Answers, Body
    from planner.holding.plan import HoldPlan
    from planner.models.edge_search import EdgeSearch
    from planner.models.frontier.findings import Frontier
    from planner.models.frontier.search import FrontierSearch
    from planner.models.scores.gap import Beat, GapTable
    from planner.peak.alternatives import Alternative
    from planner.peak.blame import Blame
    from planner.peak.forecast import Forecast
    from planner.peak.plan import PeakPlan
    from planner.peak.samples import SampleEdge


class Searching:
    """Answers for one history after another; an aim's module is loaded when it is asked."""

    def next_entry(
        self, history: History, boot_mark: str, terms: Terms = USUAL
    ) -> "tuple[Body | None, str]":
        """The body of the entry that asks for the next run, or None and the reason to close.

        Raises:
            DefinitionError: no knob with a range.
            RecordError: terms that this aim cannot keep to.
            ForbiddenSetting: the strategy asked for what the gate forbids.
        """
        body, reason = self._aim(history).next_entry(history, boot_mark, terms)
        if body is None or not history.pending:
            return body, reason
        return self._beside(history, boot_mark, terms) or body, reason

    def _beside(self, history: History, boot_mark: str, terms: Terms) -> "Body | None":
        """The entry to write while other benches are at runs of their own.

        None where nothing would be left to ask for if those end as is likely.
        """
        expected = history.expecting()
        aim = Searching()._aim(expected)  # what is kept of searches is of what was told
        body, _ = aim.next_entry(expected, boot_mark, terms)
        if body is not None:
            told = ", ".join(f"{p.number} at {p.bench}" for p in history.pending.values())
            body["reason"] += f"; run {told} taken to end as is likely"
        return body

    def closing(self, history: History) -> str | None:
        """The reason to close; None while runs are worth making."""
        return self._aim(history).closing(history)

    def recommendation(self, history: History, everyday_only: bool) -> Recommendation:
        """The setting to keep as things stand."""
        return self._aim(history).recommendation(history, everyday_only)

    def edges(self, history: History) -> dict[str, Edge]:
        """The edge of every knob with a range, the others at the study's values.

        In a peak study the others stand at the setting to keep, and supports have no edge.
        """
        return self._aim(history).edges(history)

    def gap(self, history: History, workload: str | None, beat: "Beat") -> "GapTable | None":
        """The gap to scores to beat, the study's workload if none is named.

        None while nothing claimable was scored.

        Raises:
            InputError: no such workload.
        """
        from planner.models.scores.gap import gap_table

        definition = history.definition
        meant = definition.workload if workload is None else definition.workloads.get(workload)
        if meant is None:
            known = ", ".join(definition.workloads)
            raise InputError(f"workload {workload!r}: expected one of {known}")
        ways = self._aim(history).ways(history) if meant is definition.workload else None
        return gap_table(history, meant.name, [*meant.beat, *beat], ways)

    def traced(self, history: History) -> "Frontier":
        """The edge of the study's knob along its second.

        Raises:
            DefinitionError: one of the two has no range.
        """
        from planner.aims.frontier import traced

        return traced(self._frontier, history)

    def blame(self, history: History, run: int) -> "Blame":
        """Which knob a failed run is blamed on, whatever the aim.

        Raises:
            RecordError: no such run, or it did not fail.
        """
        from planner.aims.peak import blame

        return blame(self._peak, history, run)

    def alternatives(self, history: History, count: int, terms: Terms) -> "list[Alternative]":
        """Settings that may be run instead of the one proposed.

        Raises:
            RecordError: this aim has none to choose from.
        """
        return self._aim(history).alternatives(history, count, terms)

    def forecast(self, history: History, minutes: float | None) -> "Forecast":
        """How an evening may go on.

        Raises:
            RecordError: the aim is not `peak`, or nothing scored yet.
        """
        from planner.aims.peak import forecast

        return forecast(self._peak, history, minutes)

    def sample(self, history: History) -> "dict[str, SampleEdge]":
        """Where this sample's edges lie, whatever the aim."""
        from planner.peak.samples import sample_edges

        return sample_edges(self._peak.searches.of(history).search)

    def _aim(self, history: History) -> "Answers[Any]":
        match history.definition.goal.aim:
            case Aim.EDGE:
                return self._edge
            case Aim.FRONTIER:
                return self._frontier
            case Aim.PEAK:
                return self._peak
            case Aim.EVERYDAY:
                return self._everyday
            case Aim.TRIM:
                return self._trim

    @cached_property
    def _edge(self) -> "Answers[EdgeSearch]":
        from planner.aims.edge import edge_aim

        return edge_aim()

    @cached_property
    def _frontier(self) -> "Answers[FrontierSearch]":
        from planner.aims.frontier import frontier_aim

        return frontier_aim()

    @cached_property
    def _everyday(self) -> "Answers[HoldPlan]":
        from planner.aims.holding import everyday_aim

        return everyday_aim()

    @cached_property
    def _trim(self) -> "Answers[HoldPlan]":
        from planner.aims.holding import trim_aim

        return trim_aim()

    @cached_property
    def _peak(self) -> "Answers[PeakPlan]":
        from planner.aims.peak import peak_aim

        return peak_aim()
