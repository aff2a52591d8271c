"""Aim `frontier`: one knob's edge along a second."""

from planner import tracing
from planner.aims.answers import Answers, Kept, edges_beside, one_knob
from planner.domain.terms import Terms
from planner.errors import DefinitionError
from planner.history import History
from planner.models.findings import Recommendation, recommend
from planner.models.frontier.findings import Frontier
from planner.models.frontier.search import FrontierSearch, frontier_search
from planner.models.scores.answering import UNKNOWN
from planner.proposing import Asked, asked_of
from planner.stopping import kept


def frontier_aim() -> Answers[FrontierSearch]:
    """The answers about a frontier."""
    return Answers(
        Kept(_begun, FrontierSearch.carried_to),
        tracing.closing_reason,
        _asked,
        "the strategy has no run left to ask for",
        _recommended,
        lambda search: edges_beside(search.history, search.base),
        lambda search: UNKNOWN,
    )


def traced(aim: Answers[FrontierSearch], history: History) -> Frontier:
    """The edge of the study's knob along its second.

    Raises:
        DefinitionError: one of the two has no range.
    """
    return tracing.found(aim.searches.of(history))


def _begun(history: History, terms: Terms) -> FrontierSearch:
    one_knob(history, terms)
    found = frontier_search(history, terms.everyday_only)
    if found is None:
        along = history.definition.goal.along
        raise DefinitionError(
            f"study.toml: [study]: along = {along!r}: expected the name of a second knob that"
            " has low, high and step"
        )
    return found


def _asked(frontier: FrontierSearch) -> Asked | None:
    chosen = tracing.choose(frontier)
    return None if chosen is None else asked_of(*chosen)


def _recommended(frontier: FrontierSearch) -> Recommendation:
    point = tracing.best_point(frontier) or frontier.root
    return recommend(point, kept(point) if point.values else None)
