"""The frontier picture, put together."""

from matplotlib.figure import Figure

from planner.report.pictures.figure import finish, look, new_figure
from planner.report.pictures.frontier import frame, layers
from planner.report.pictures.frontier.data import FrontierPicture
from planner.report.pictures.frontier.notes import notes
from planner.report.pictures.frontier.panel import ROOM
from planner.report.pictures.frontier.tried import runs
from planner.report.pictures.frontier.words import conditions, verdict

_LEFT, _RIGHT, _BARE = 1.05, 1.4, 0.35
"""Inches left free at the sides; the last one where no ceiling has its label at the right."""


def frontier_figure(picture: FrontierPicture) -> Figure:
    """The edge along the second knob, with the runs, the ceilings and the point to keep."""
    across, up = (points / 72 for points in ROOM)
    labelled = any(not fence.upright for fence in picture.fences.lines)
    width = _LEFT + across + (_RIGHT if labelled else _BARE)
    with look():
        figure = new_figure(width, up)
        axes = figure.add_axes((_LEFT / width, 0.0, across / width, 1.0))
        frame.dress(axes, picture)
        layers.stations(axes, picture)
        layers.band(axes, picture)
        layers.kept(axes, picture)
        runs(axes, picture)
        layers.asked(axes, picture)
        frame.ceilings(axes, picture)
        notes(axes, picture)
        finish(figure, verdict(picture), conditions(picture), len(frame.rows(picture)))
    return figure
