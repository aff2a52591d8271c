"""Which search the pictures of one knob show."""

from planner import tracing
from planner.domain.knob import Knob
from planner.domain.tables import Aim
from planner.history import History
from planner.models.edge_search import EdgeSearch, edge_search
from planner.models.frontier.search import frontier_search


def shown_search(history: History) -> EdgeSearch | None:
    """The study's; of a frontier that at the point to keep. None where no knob has a range."""
    frontier = frontier_search(history) if traced_along(history) is not None else None
    point = None if frontier is None else tracing.best_point(frontier)
    return edge_search(history) if point is None else point


def traced_along(history: History) -> Knob | None:
    """The second knob of a frontier study; None of any other study."""
    goal = history.definition.goal
    return history.definition.knobs.get(goal.along) if goal.aim is Aim.FRONTIER else None
