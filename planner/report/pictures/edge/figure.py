"""The edge picture, put together."""

from matplotlib.figure import Figure

from planner.report.pictures.edge import layers
from planner.report.pictures.edge.axes import dress, dress_bounds, rows
from planner.report.pictures.edge.data import EdgePicture
from planner.report.pictures.edge.words import conditions, verdict
from planner.report.pictures.figure import ROW_POINTS, head, legend, look, new_figure

_WIDTH, _HEIGHT = 8.0, 5.2
"""Inches."""
_LEFT, _RIGHT, _BOTTOM, _LEGEND = 0.13, 0.9, 0.19, 0.095
"""Shares of the figure."""


def edge_figure(picture: EdgePicture) -> Figure:
    """Pass probability against the knob, with the runs, the edge and the ceilings."""
    with look():
        figure = new_figure(_WIDTH, _HEIGHT)
        labels = len(rows(picture)) * ROW_POINTS / 72
        top = (head(figure, verdict(picture), conditions(picture)) - labels) / _HEIGHT
        axes = figure.add_axes((_LEFT, _BOTTOM, _RIGHT - _LEFT, top - _BOTTOM))
        dress(axes, picture)
        dress_bounds(axes, picture)
        layers.curve(axes, picture)
        layers.runs(axes, picture)
        layers.edge(axes, picture)
        layers.best(axes, picture)
        legend(axes, _LEGEND, 4)
    return figure
