"""The map, put together."""

from matplotlib.figure import Figure

from planner.report.pictures.figure import finish, look, new_figure
from planner.report.pictures.map import frame, layers
from planner.report.pictures.map.data import ROOM, KnobMap
from planner.report.pictures.map.words import conditions, verdict

_LEFT, _RIGHT = 1.05, 1.4
"""Inches left free at the sides."""


def map_figure(picture: KnobMap) -> Figure:
    """The cells with their runs, the ceilings, the proposal and the setting to keep."""
    across, up = (points / 72 for points in ROOM)
    width = _LEFT + across + _RIGHT
    with look():
        figure = new_figure(width, up)
        axes = figure.add_axes((_LEFT / width, 0.0, across / width, 1.0))
        frame.dress(axes, picture)
        frame.ceilings(axes, picture)
        layers.tiles(axes, picture)
        layers.runs(axes, picture)
        layers.spots(axes, picture)
        finish(figure, verdict(picture), conditions(picture), len(picture.x_lines))
    return figure
