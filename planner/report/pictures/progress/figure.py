"""The progress picture, put together."""

from matplotlib.figure import Figure

from planner.report.pictures.figure import finish, look, new_figure
from planner.report.pictures.progress import layers, panel
from planner.report.pictures.progress.data import Progress
from planner.report.pictures.progress.words import conditions, verdict

_RUNS, _SCORES, _GAP = 3.3, 1.55, 0.16
"""Inches of the upper and the lower panel, and between them."""


def progress_figure(picture: Progress) -> Figure:
    """Runs, interval and best over the minutes; below them the scores where there are any."""
    below = 0.0 if picture.scores is None else _SCORES + _GAP
    with look():
        figure = new_figure(panel.WIDTH, below + _RUNS)
        axes = panel.new_panel(figure, below, _RUNS)
        panel.dress(axes, picture)
        layers.lost(axes, picture.lost)
        layers.band(axes, picture)
        layers.runs(axes, picture)
        layers.best(axes, picture)
        above = layers.told(axes, picture.told, labelled=True)
        if picture.scores is not None:
            axes.tick_params(labelbottom=False)
            lower = panel.new_panel(figure, 0.0, _SCORES)
            panel.dress_scores(lower, picture.minutes, picture.scores)
            layers.scores(lower, picture.scores)
            layers.told(lower, picture.told, labelled=False)
        panel.dress_minutes(figure.axes[-1])
        finish(figure, verdict(picture), conditions(picture), above)
    return figure
