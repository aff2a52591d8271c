"""The chance to pass against the searched knob, with the runs, the edge and the ceilings.

Of a search over many knobs the edges of all knobs beside the setting to keep.
"""

from functools import partial
from typing import TYPE_CHECKING

from planner.history import History
from planner.report.pictures.edge import joint
from planner.report.pictures.edge.data import EdgePicture, edge_picture
from planner.report.pictures.edge.words import alternative, verdict
from planner.report.pictures.picture import Picture, Prepared, Wanted
from planner.report.pictures.searched import shown_search
from planner.searching import Searching

if TYPE_CHECKING:
    from matplotlib.figure import Figure


def _lacks(history: History, wanted: Wanted) -> str:
    if history.definition.searched is None:
        return "study.toml: [[knob]]: expected one with low, high and step"
    return ""


def _prepare(history: History, wanted: Wanted, answers: Searching) -> Prepared:
    if not history.definition.goal.aim.one_knob:
        return joint.prepared(history, answers)
    search = shown_search(history)
    assert search is not None, "a knob has a range"
    summary = edge_picture(search)
    return Prepared(verdict(summary), alternative(summary), partial(_draw, summary))


def _draw(summary: EdgePicture) -> "Figure":
    from planner.report.pictures.edge.figure import edge_figure

    return edge_figure(summary)


PICTURE = Picture(_lacks, _prepare)
