"""What a search over many knobs brought: scores, the best so far, chances taken."""

from functools import partial
from typing import TYPE_CHECKING

from planner.history import History
from planner.report.pictures.picture import Prepared
from planner.report.pictures.progress.climb.data import Climb, climb
from planner.report.pictures.progress.climb.words import alternative, verdict

if TYPE_CHECKING:
    from matplotlib.figure import Figure


def prepared(history: History) -> Prepared:
    """The picture, its data gathered."""
    summary = climb(history)
    return Prepared(verdict(summary), alternative(summary), partial(_draw, summary))


def _draw(summary: Climb) -> "Figure":
    from planner.report.pictures.progress.climb.figure import climb_figure

    return climb_figure(summary)
