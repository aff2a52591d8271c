"""What the bench minutes brought: runs, the edge's interval, the best, scores, over the minutes.

Of a search over many knobs the scores and the chances that were taken: it has no one edge.
"""

from functools import partial
from typing import TYPE_CHECKING

from planner.history import History
from planner.report.pictures.picture import Picture, Prepared, Wanted
from planner.report.pictures.progress import climb
from planner.report.pictures.progress.data import Progress, progress
from planner.report.pictures.progress.words import alternative, verdict
from planner.searching import Searching

if TYPE_CHECKING:
    from matplotlib.figure import Figure


def _lacks(history: History, wanted: Wanted) -> str:
    if history.definition.searched is None:
        return "study.toml: [[knob]]: expected one with low, high and step"
    return ""


def _prepare(history: History, wanted: Wanted, answers: Searching) -> Prepared:
    if not history.definition.goal.aim.one_knob:
        return climb.prepared(history)
    summary = progress(history)
    assert summary is not None, "a knob has a range"
    return Prepared(verdict(summary), alternative(summary), partial(_draw, summary))


def _draw(summary: Progress) -> "Figure":
    from planner.report.pictures.progress.figure import progress_figure

    return progress_figure(summary)


PICTURE = Picture(_lacks, _prepare)
