"""Aim `edge`: where one knob stops holding."""

from functools import partial

from planner.aims.answers import Answers, Kept, edges_beside, one_knob
from planner.domain.knob import Setting
from planner.domain.terms import Terms
from planner.errors import DefinitionError
from planner.history import History
from planner.models.edge_search import EdgeSearch, edge_search
from planner.models.findings import Recommendation, recommend
from planner.models.scores.answering import Holding, Ways
from planner.proposing import Asked, asked_of, choose
from planner.stopping import closing_reason, kept


def edge_aim() -> Answers[EdgeSearch]:
    """The answers about one knob's edge."""
    return Answers(
        Kept(_begun, EdgeSearch.carried_to),
        closing_reason,
        _asked,
        "the strategy has no run left to ask for",
        _recommended,
        lambda search: edges_beside(search.history, search.base),
        lambda search: Ways(partial(_holding, search)),
    )


def _begun(history: History, terms: Terms) -> EdgeSearch:
    one_knob(history, terms)
    found = edge_search(history, terms.everyday_only)
    if found is None:
        raise DefinitionError("study.toml: [[knob]]: expected one with low, high and step")
    return found


def _asked(search: EdgeSearch) -> Asked | None:
    choice = choose(search)
    return None if choice is None else asked_of(search, choice)


def _recommended(search: EdgeSearch) -> Recommendation:
    return recommend(search, kept(search) if search.values else None)


def _holding(search: EdgeSearch, setting: Setting) -> Holding | None:
    """None where another knob than the searched one differs: its edge does not serve there."""
    own = search.knob.name
    if any(search.base.get(name) != value for name, value in setting.items() if name != own):
        return None
    value, posterior = float(setting[own]), search.posterior
    chances = posterior.grid.survival(search.knob.hardness(value), 1.0)
    return Holding(chances.ravel(), posterior.weights.ravel(), search.minutes(value))
