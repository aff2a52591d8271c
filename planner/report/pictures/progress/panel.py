"""The frames of the progress picture: scales, ceilings, labels."""

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import MaxNLocator

from planner.domain.quantity import format_number
from planner.report.pictures.ceilings import Bound, Limit, line_look
from planner.report.pictures.figure import label_right
from planner.report.pictures.inks import INK, RISK, RULE, SHUT
from planner.report.pictures.progress.data import Progress
from planner.report.pictures.progress.scores import Scores
from planner.report.pictures.progress.words import score_text
from planner.report.pictures.scales import grid_ticks
from planner.report.pictures.words import short, upright_label

_TICKS = 9
_MARGIN = 0.03
"""Share of the minutes that is left free at either end."""
_LABEL_LEFT = -0.125
WIDTH, _LEFT, _RIGHT = 8.0, 1.0, 1.4
"""Inches of the figure; the latter two left free at the sides."""


def new_panel(figure: Figure, low: float, height: float) -> Axes:
    """A frame at a height above the figure's lower border, both in inches."""
    width, whole = (float(inches) for inches in figure.get_size_inches())
    share = (width - _LEFT - _RIGHT) / width
    return figure.add_axes((_LEFT / width, low / whole, share, height / whole))


def dress(axes: Axes, picture: Progress) -> None:
    """The knob upwards, harder values higher; ceilings as level lines."""
    knob = picture.knob
    ends = [knob.at_hardness(end) for end in picture.shown]
    axes.set_ylim(*ends)
    ticks = grid_ticks(knob, min(ends), max(ends), _TICKS)
    axes.set_yticks(ticks, [format_number(tick) for tick in ticks])
    label = upright_label(knob, "harder upward  \N{RIGHTWARDS ARROW}")
    axes.set_ylabel(label)
    axes.yaxis.set_label_coords(_LABEL_LEFT + (0.02 if "\n" in label else 0), 0.5)
    axes.grid(axis="y", color=RULE, lw=0.6, zorder=0)
    axes.set_axisbelow(True)
    dress_time(axes, picture.minutes)
    _ceilings(axes, picture)


def dress_scores(axes: Axes, minutes: float, scores: Scores) -> None:
    """The scores upwards."""
    values = [mark.score for mark in scores.marks]
    room = 0.12 * (max(values) - min(values)) or 0.01 * abs(max(values)) or 1.0
    axes.set_ylim(min(values) - room, max(values) + 1.5 * room)
    axes.yaxis.set_major_locator(MaxNLocator(nbins=4, steps=[1, 2, 2.5, 5, 10]))
    axes.yaxis.set_major_formatter(lambda score, _: score_text(score))
    axes.set_ylabel("score")
    axes.yaxis.set_label_coords(_LABEL_LEFT, 0.5)
    axes.grid(axis="y", color=RULE, lw=0.6, zorder=0)
    axes.set_axisbelow(True)
    dress_time(axes, minutes)


def dress_minutes(axes: Axes) -> None:
    """The scale of minutes, under the lowest panel."""
    axes.set_xlabel("bench minutes spent")


def dress_time(axes: Axes, minutes: float) -> None:
    """Bench minutes to the right."""
    end = minutes or 1.0
    axes.set_xlim(-_MARGIN * end, (1 + _MARGIN) * end)
    axes.xaxis.set_major_locator(MaxNLocator(nbins=9, steps=[1, 2, 3, 6, 10], integer=True))
    axes.tick_params(labelsize=8.5)


def _ceilings(axes: Axes, picture: Progress) -> None:
    """Everything above an everyday ceiling hatched, what nothing may pass in grey."""
    found = {bound.limit: bound.value for bound in picture.bounds}
    top = max(axes.get_ylim())
    last = found.get(Limit.HARD_STOP, found.get(Limit.OWN_RISK, found.get(Limit.EVERYDAY, top)))
    if last < top:
        axes.axhspan(last, top, color=SHUT, lw=0, zorder=0)
    if (everyday := found.get(Limit.EVERYDAY, top)) < top:
        label = "AT YOUR OWN RISK: above an everyday ceiling"
        axes.axhspan(everyday, top, fc="none", ec=RISK, hatch="////", lw=0, zorder=0.5, label=label)
    labels = []
    for bound in picture.bounds:
        if 0 <= picture.up(bound.value) <= 1:
            axes.axhline(bound.value, color=INK, zorder=1, **line_look(bound.limit))
            labels.append((picture.up(bound.value), _words(picture, bound)))
    label_right(axes, labels)


def _words(picture: Progress, bound: Bound) -> str:
    of = f"of {short(bound.of, 20)}\n" if bound.of else ""
    shown = picture.knob.show(bound.value)
    if bound.limit is Limit.OWN_RISK:
        return f"AT YOUR OWN RISK\n{of}to {shown}"
    return f"{bound.limit.value}\n{of}{shown}"
