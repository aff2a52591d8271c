"""Tracing a frontier: at which station to run next, when it is known, the point to keep.

Each station is the search of one edge, served by the same strategies and closing rules; what a run
tells of the neighbours comes from the posterior that they share.
"""

from planner.models.edge_search import EdgeSearch
from planner.models.frontier.findings import Frontier, frontier_of
from planner.models.frontier.search import FrontierSearch
from planner.stopping import kept, minutes_spent, nothing_permitted, owed, search_over
from planner.strategies import Choice, strategy_of
from planner.strategies.confirming import Confirming


def closing_reason(frontier: FrontierSearch) -> str | None:
    """Why to close now, or None to go on; the person's own closing comes first."""
    history = frontier.history
    if history.closed:
        return history.closed
    if not frontier.asked:
        return nothing_permitted(frontier.root) or f"no value of {frontier.along.name} is permitted"
    if reason := minutes_spent(history):
        return reason
    if history.reopened or _open(frontier):
        return None
    point = best_point(frontier)
    return None if point is not None and owed(point) else _traced(frontier)


def choose(frontier: FrontierSearch) -> tuple[EdgeSearch, Choice] | None:
    """The station and the value to run next; None when nothing is left to ask."""
    stations = list(frontier.asked) if frontier.history.reopened else _open(frontier)
    if stations:
        if strategy_of(stations[0]).modelled:
            stations = [max(stations, key=lambda s: float(s.worth.rates.max()))]
        for station in stations:
            choice = strategy_of(station).choose(station)
            if choice is not None:
                return station, _placed(frontier, station, choice)
    point = best_point(frontier)
    if point is None or not owed(point):
        return None
    choice = Confirming(kept(point)).choose(point)
    return None if choice is None else (point, _placed(frontier, point, choice))


def best_point(frontier: FrontierSearch, everyday_only: bool = False) -> EdgeSearch | None:
    """The station to keep: where the knob goes hardest; along a knob that helps it, at its least.

    Where the second knob is itself what is wanted hardest (the least voltage for each clock), its
    hardest station at which something has held. A value that passes less often than is asked for
    is only named where no station has a better one. While nothing has held anywhere it is the
    station nearest stock; None where nothing is likely to hold there either.
    """
    stations = [s for s in frontier.searches if s.values]
    if everyday_only:
        stations = [s for s in stations if not s.gate.at_own_risk(s.base)]
    held = [(s, value) for s in stations if (value := _borne_out(s)) is not None]
    if not held:
        return _at_stock(frontier, stations)
    sound = [(s, value) for s, value in held if s.chance(value) >= frontier.grid.target] or held
    if not frontier.helps:
        return sound[0][0]
    return max(sound, key=lambda pair: pair[0].knob.hardness(pair[1]))[0]


def found(frontier: FrontierSearch) -> Frontier:
    """What is known of the frontier as things stand."""
    values = [_borne_out(s) if s.values else None for s in frontier.searches]
    return frontier_of(frontier, values, best_point(frontier))


def _borne_out(station: EdgeSearch) -> float | None:
    """The value to keep at a station; None where no run bears it out."""
    value = kept(station)
    return value if value is not None and station.passed_at_or_above(value) else None


def _at_stock(frontier: FrontierSearch, stations: list[EdgeSearch]) -> EdgeSearch | None:
    along = frontier.along
    stock = along.stock
    if isinstance(stock, str):
        return None
    nearest = min(stations, key=lambda s: abs(float(s.base[along.name]) - stock), default=None)
    return None if nearest is None or kept(nearest) is None else nearest


def _open(frontier: FrontierSearch) -> list[EdgeSearch]:
    return [station for station in frontier.asked if search_over(station) is None]


def _placed(frontier: FrontierSearch, station: EdgeSearch, choice: Choice) -> Choice:
    along = frontier.along
    where = along.show(station.base[along.name])
    return Choice(choice.value, f"at {where}: {choice.reason}", choice.cold_start)


def _traced(frontier: FrontierSearch) -> str:
    knob, along = frontier.knob, frontier.along
    ends = [frontier.asked[0], frontier.asked[-1]]
    parts = []
    for station in ends if len(frontier.asked) > 1 else ends[:1]:
        value = kept(station)
        held = "nothing" if value is None else f"{knob.name} {knob.show(value)}"
        parts.append(f"{held} holds at {along.show(station.base[along.name])}")
    return (
        f"frontier known well enough at {len(frontier.asked)} values of {along.name}:"
        f" {', '.join(parts)}"
    )
