"""What a study answers from the model: the aim of its definition speaks."""

from functools import cached_property
from typing import TYPE_CHECKING, Any

from planner.domain.tables import Aim
from planner.errors import DefinitionError, InputError
from planner.history import History
from planner.models.findings import Edge, Recommendation

if TYPE_CHECKING:
    from planner.aims.answers import Answers, Body
    from planner.models.edge_search import EdgeSearch
    from planner.models.frontier.findings import Frontier
    from planner.models.frontier.search import FrontierSearch
    from planner.models.scores.gap import Beat, GapTable
    from planner.peak.blame import Blame
    from planner.peak.plan import PeakPlan

_SERVED = (Aim.EDGE, Aim.FRONTIER, Aim.PEAK)


class Searching:
    """Answers for one history after another; an aim's module is loaded when it is asked."""

    def next_entry(
        self, history: History, boot_mark: str, everyday_only: bool = False
    ) -> "tuple[Body | None, str]":
        """The body of the entry that asks for the next run, or None and the reason to close.

        `everyday_only` ignores accepted risks.

        Raises:
            DefinitionError: an aim that is not served, or no knob with a range.
            ForbiddenSetting: the strategy asked for what the gate forbids.
        """
        aim = history.definition.goal.aim
        if aim not in _SERVED:
            raise DefinitionError(
                f'study.toml: [study]: aim = "{aim}": this version does not serve that aim yet,'
                ' expected aim = "edge", "frontier" or "peak"'
            )
        return self._aim(history).next_entry(history, boot_mark, everyday_only)

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

    def _aim(self, history: History) -> "Answers[Any]":
        """Aims that are not served yet are answered as the edge of one knob."""
        match history.definition.goal.aim:
            case Aim.FRONTIER:
                return self._frontier
            case Aim.PEAK:
                return self._peak
            case _:
                return self._edge

    @cached_property
    def _edge(self) -> "Answers[EdgeSearch]":
        from planner.aims.edge import edge_aim

        return edge_aim()

    @cached_property
    def _frontier(self) -> "Answers[FrontierSearch]":
        from planner.aims.frontier import frontier_aim

        return frontier_aim()

    @cached_property
    def _peak(self) -> "Answers[PeakPlan]":
        from planner.aims.peak import peak_aim

        return peak_aim()
