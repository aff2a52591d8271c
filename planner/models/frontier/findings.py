"""What a study may state of a frontier."""

from dataclasses import dataclass
from enum import StrEnum

from planner.models.edge import LEVEL
from planner.models.edge_search import EdgeSearch
from planner.models.frontier.search import FrontierSearch

_UNLIKELY = 0.1
"""Where something permitted holds with less than that, it is said that nothing does."""


class Holding(StrEnum):
    """What may be said of the value to keep at a point."""

    HELD = "held"
    """A nominal run has held at it, or harder, there or where it says as much."""
    NONE_YET = "none yet"
    """No run bears out any value; what the edge's interval says is the model's alone."""
    NOTHING = "nothing holds"
    """Most likely no permitted value does."""
    NOT_PERMITTED = "not permitted"
    """Ceilings, rules or stops leave none."""


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
    """The first knob's value to keep there; None where no run bears one out."""
    holding: Holding
    pass_probability: float
    """Probability that a nominal run passes there; at the range's easiest where `kept` is None."""
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
    """The statement; `kept`: the value borne out at each station, `best`: the station to keep."""
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
        holding=_holding(station, kept),
        pass_probability=station.chance(value),
        runs=len(frontier.runs.get(along, ())),
        asked=along in frontier.stations.asked,
        at_own_risk=station.gate.at_own_risk(station.base),
        rises=rises,
    )


def _holding(station: EdgeSearch, kept: float | None) -> Holding:
    if kept is not None:
        return Holding.HELD
    if not station.values:
        return Holding.NOT_PERMITTED
    likely = station.posterior.beyond(float(station.levels[0]))
    return Holding.NOTHING if likely < _UNLIKELY else Holding.NONE_YET
