"""What a study may state of a frontier."""

from dataclasses import dataclass

from planner.models.edge import LEVEL
from planner.models.edge_search import EdgeSearch
from planner.models.frontier.search import FrontierSearch


@dataclass(frozen=True, slots=True)
class FrontierPoint:
    """The edge at one value of the second knob."""

    along: float
    """The second knob's value."""
    edge: float
    """Median of the first knob's edge, in its unit; on or between its values, or beyond them."""
    interval: tuple[float, float]
    """Lower and upper end of the edge's credible interval."""
    kept: float | None
    """The first knob's value to keep there; None where none is likely to hold."""
    pass_probability: float
    """Probability that a nominal run passes there; of the easiest permitted value where none is."""
    runs: int
    """Runs made at exactly this value of the second knob."""
    asked: bool
    """Whether runs may be proposed here; else it is what the neighbours tell."""
    at_own_risk: tuple[str, ...]
    """Knobs and derived values above their everyday ceiling at this value."""
    rises: float
    """Probability that the edge does not fall on the way here from the harder neighbour."""


@dataclass(frozen=True, slots=True)
class Frontier:
    """The edge of one knob along a second."""

    knob: str
    along: str
    target: float
    """Probability with which a nominal run passes at the edge."""
    level: float
    """Credibility of the intervals, each point for itself."""
    points: tuple[FrontierPoint, ...]
    """By ascending value of the second knob."""
    best: float | None
    """The second knob's value at the point to keep; None where nothing holds anywhere."""


def frontier_of(
    frontier: FrontierSearch, kept: list[float | None], best: EdgeSearch | None
) -> Frontier:
    """The statement; `kept`: the value to keep at each station, `best`: the station to keep."""
    stations = zip(frontier.searches, kept, frontier.rises, strict=True)
    points = [_point(frontier, *station) for station in stations]
    along = frontier.along.name
    return Frontier(
        knob=frontier.knob.name,
        along=along,
        target=frontier.grid.target,
        level=LEVEL,
        points=tuple(sorted(points, key=lambda point: point.along)),
        best=None if best is None else float(best.base[along]),
    )


def _point(
    frontier: FrontierSearch, station: EdgeSearch, kept: float | None, rises: float
) -> FrontierPoint:
    knob, along = station.knob, float(station.base[frontier.along.name])
    low, high = sorted(knob.at_hardness(end) for end in station.posterior.interval())
    value = float(knob.values[0]) if kept is None else kept
    return FrontierPoint(
        along=along,
        edge=knob.at_hardness(station.posterior.quantile(0.5)),
        interval=(low, high),
        kept=kept,
        pass_probability=station.chance(value),
        runs=sum(run.ran[frontier.along.name] == along for run in frontier.history.evidence),
        asked=along in frontier.stations.asked,
        at_own_risk=station.gate.at_own_risk(station.base),
        rises=rises,
    )
