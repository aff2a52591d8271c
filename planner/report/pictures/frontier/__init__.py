"""The edge of the searched knob along the study's second one, with runs and both ceilings."""

from functools import partial
from typing import TYPE_CHECKING

from planner.domain.tables import Aim
from planner.history import History
from planner.models.frontier.search import frontier_search
from planner.report.pictures.frontier.data import FrontierPicture, frontier_picture
from planner.report.pictures.frontier.words import alternative, verdict
from planner.report.pictures.picture import Picture, Prepared, Wanted
from planner.searching import Searching

if TYPE_CHECKING:
    from matplotlib.figure import Figure


def _lacks(history: History, wanted: Wanted) -> str:
    goal = history.definition.goal
    if goal.aim is not Aim.FRONTIER:
        return f'study.toml: [study]: aim = "{goal.aim}": expected aim = "frontier"'
    knob, along = history.definition.searched, history.definition.knobs.get(goal.along)
    if knob is None or knob.grid is None or along is None or along.grid is None:
        return (
            f"study.toml: [study]: along = {goal.along!r}: expected the name of a second knob that"
            " has low, high and step"
        )
    search = frontier_search(history)
    if search is not None and not search.stations.values:
        return f"no value of {along.name} is permitted, and none was run"
    return ""


def _prepare(history: History, wanted: Wanted, answers: Searching) -> Prepared:
    search = frontier_search(history)
    assert search is not None, "both knobs have a range"
    summary = frontier_picture(search)
    return Prepared(verdict(summary), alternative(summary), partial(_draw, summary))


def _draw(summary: FrontierPicture) -> "Figure":
    from planner.report.pictures.frontier.figure import frontier_figure

    return frontier_figure(summary)


PICTURE = Picture(_lacks, _prepare)
