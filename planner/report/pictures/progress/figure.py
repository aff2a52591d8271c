"""The progress picture, put together."""

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from planner.report.pictures.figure import (
    finish,
    label_above,
    look,
    new_figure,
    rows_outwards,
    upright,
)
from planner.report.pictures.inks import INK
from planner.report.pictures.progress import layers, panel
from planner.report.pictures.progress.data import Progress
from planner.report.pictures.progress.words import conditions, verdict

_WIDTH, _LEFT, _RIGHT = 8.0, 1.0, 1.4
"""Inches; the latter left free at the sides."""
_RUNS, _SCORES, _GAP = 3.3, 1.55, 0.16
"""Inches of the upper and the lower panel, and between them."""
_LABELLED = 5
"""So many upright marks have their words above them; more would push the picture down."""


def progress_figure(picture: Progress) -> Figure:
    """Runs, interval and best over the minutes; below them the scores where there are any."""
    below = 0.0 if picture.scores is None else _SCORES + _GAP
    with look():
        figure = new_figure(_WIDTH, below + _RUNS)
        axes = _panel(figure, below, _RUNS)
        panel.dress(axes, picture)
        layers.lost(axes, picture)
        layers.band(axes, picture)
        layers.runs(axes, picture)
        layers.best(axes, picture)
        _marks(axes, picture, labelled=True)
        if picture.scores is not None:
            axes.tick_params(labelbottom=False)
            lower = _panel(figure, 0.0, _SCORES)
            panel.dress_scores(lower, picture, picture.scores)
            layers.scores(lower, picture, picture.scores)
            _marks(lower, picture, labelled=False)
        panel.dress_minutes(figure.axes[-1])
        above = min(len(picture.told), _LABELLED)
        finish(figure, verdict(picture), conditions(picture), above)
    return figure


def _panel(figure: Figure, low: float, height: float) -> Axes:
    width, whole = (float(inches) for inches in figure.get_size_inches())
    share = (width - _LEFT - _RIGHT) / width
    return figure.add_axes((_LEFT / width, low / whole, share, height / whole))


def _marks(axes: Axes, picture: Progress, labelled: bool) -> None:
    """Upright lines where something else was told, the last few with their words."""
    left, right = axes.get_xlim()
    places = [(told.minutes - left) / (right - left) for told in picture.told]
    named = range(max(0, len(places) - _LABELLED), len(places)) if labelled else range(0)
    rows = {named[at]: row for row, at in enumerate(rows_outwards([places[n] for n in named]))}
    for at, told in enumerate(picture.told):
        row = rows.get(at)
        upright(axes, told.minutes, row, color=INK, lw=1.0, ls=(0, (1, 2)), zorder=3)
        if row is not None:
            label_above(axes, places[at], row, told.words)
