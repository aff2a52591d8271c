"""What the picture of all edges shows, frozen."""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.domain.definition import Definition
from planner.domain.knob import Knob, Setting
from planner.domain.run import Run
from planner.history import History
from planner.models.findings import Edge, Recommendation
from planner.report.pictures.ceilings import Bound, bounds_of
from planner.report.pictures.risked import Risked, risked_runs
from planner.report.pictures.words import study_line


@dataclass(frozen=True, slots=True)
class Row:
    """One knob that can fail a run; values in its unit."""

    knob: Knob
    edge: Edge
    kept: float
    """Its value in the setting to keep."""
    held: tuple[float, ...]
    """Values at which a run held, whatever the other knobs, the easiest first."""
    failed: tuple[float, ...]
    """Values at which one failed."""
    bounds: tuple[Bound, ...]

    def across(self, value: float) -> float:
        """How far to the right a value is drawn: 0 at the easy end of the range, 1 at the hard."""
        assert self.knob.grid is not None, self.knob.name
        return self.knob.hardness(value) / max(self.knob.grid.size - 1, 1)

    @property
    def room(self) -> float:
        """From the value to keep to the edge, as a share of the range."""
        return self.across(self.edge.value) - self.across(self.kept)


@dataclass(frozen=True, slots=True)
class JointEdges:
    """All that is drawn."""

    study_line: tuple[str, ...]
    target: float
    level: float
    """Credibility of the intervals."""
    runs: int
    rows: tuple[Row, ...]
    beside: tuple[str, ...]
    """Knobs that move edges and have none, with their values in the setting to keep, in words."""
    holds: bool
    """Whether the setting to keep passes with the target."""
    at_risk: Risked


def joint_edges(history: History, edges: Mapping[str, Edge], best: Recommendation) -> JointEdges:
    """The picture of `edges`, the other knobs as in `best`."""
    definition, keep = history.definition, best.settings
    level = next((edge.level for edge in edges.values()), 0.0)
    return JointEdges(
        study_line=tuple(study_line(history)),
        target=definition.goal.target,
        level=level,
        runs=len(history.evidence),
        rows=tuple(_row(definition, edge, keep, history.evidence) for edge in edges.values()),
        beside=tuple(
            f"{name} {knob.show(keep[name])}"
            for name, knob in definition.knobs.items()
            if name not in edges
        ),
        holds=best.holds,
        at_risk=risked_runs(history),
    )


def _row(definition: Definition, edge: Edge, keep: Setting, runs: tuple[Run, ...]) -> Row:
    knob = definition.knobs[edge.knob]
    return Row(
        knob=knob,
        edge=edge,
        kept=float(keep[knob.name]),
        held=_values(knob, [run for run in runs if run.outcome.held]),
        failed=_values(knob, [run for run in runs if run.outcome.failed]),
        bounds=bounds_of(definition, knob, keep),
    )


def _values(knob: Knob, runs: list[Run]) -> tuple[float, ...]:
    values = {v for run in runs if not isinstance(v := run.ran[knob.name], str)}
    return tuple(sorted(map(float, values), key=knob.hardness))
