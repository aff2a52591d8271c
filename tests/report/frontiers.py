"""Frontiers made by hand, with every kind of point that the table tells apart."""

from dataclasses import replace

from planner.domain.tables import Aim
from planner.history import History
from planner.models.frontier.findings import Frontier, FrontierPoint, Holding

VOLTS = "core_voltage"


def along(history: History, knob: str, second: str) -> History:
    """The same history of a study that traces a frontier."""
    definition = history.definition
    goal = replace(definition.goal, aim=Aim.FRONTIER, knob=knob, along=second)
    return replace(history, definitions=(*history.definitions, replace(definition, goal=goal)))


def _point(
    value: float, ends: tuple[float, float], kept: float | None, runs: int, **other: object
) -> FrontierPoint:
    point = FrontierPoint(
        along=value,
        edge=sum(ends) / 2,
        interval=ends,
        kept=kept,
        holding=Holding.NONE_YET if kept is None else Holding.HELD,
        pass_probability=0.94,
        runs=runs,
        asked=True,
        at_own_risk=(),
        rises=1.0,
    )
    return replace(point, **other)  # type: ignore[arg-type]


CLOCKS = Frontier(
    knob="core_clock",
    along=VOLTS,
    target=0.9,
    level=0.9,
    points=(
        _point(1.0, (4700, 4790), None, 3, holding=Holding.NOTHING),
        _point(1.05, (4750, 4931.25), None, 1),
        _point(1.1, (4900, 5050), 4900, 0),
        _point(1.15, (5087.5, 5087.5), 5075, 4, pass_probability=0.996),
        _point(1.17, (5100, 5150), 5100, 1, asked=False),
        _point(1.2, (5200, 5610), None, 0),
        _point(1.25, (5212.5, 5275), 5225, 6),
        _point(1.3, (5250, 5640), 5250, 2, at_own_risk=(VOLTS,)),
        _point(
            1.31,
            (5200, 5700),
            None,
            0,
            at_own_risk=(VOLTS,),
            asked=False,
            holding=Holding.NOT_PERMITTED,
        ),
    ),
    best=1.25,
)
LEAST = Frontier(
    knob=VOLTS,
    along="core_clock",
    target=0.9,
    level=0.9,
    points=(
        _point(4800, (0.96, 0.98), 1.0, 2),
        _point(5000, (0.985, 1.13), 1.14, 3, pass_probability=0.91),
        _point(5200, (1.18, 1.42), None, 0),
    ),
    best=5000,
)
UNKNOWN = replace(
    CLOCKS, best=1.2, points=tuple(replace(p, kept=None, runs=0) for p in CLOCKS.points[5:6])
)
SHUT = replace(CLOCKS, points=(), best=None)
