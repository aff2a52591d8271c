"""The frame of the frontier picture: scales, ceilings of both knobs, what lies above them."""

from matplotlib.axes import Axes

from planner.domain.knob import Harder, Knob
from planner.domain.quantity import format_number
from planner.report.pictures.ceilings import line_look
from planner.report.pictures.figure import label_above, label_right, rows_outwards, upright
from planner.report.pictures.frontier.data import FrontierPicture
from planner.report.pictures.frontier.fences import Fence
from planner.report.pictures.frontier.panel import ROOM
from planner.report.pictures.frontier.words import fence_label, risk_label
from planner.report.pictures.inks import INK, RISK, RULE, SHUT
from planner.report.pictures.scales import grid_ticks
from planner.report.pictures.words import upright_label, with_unit_of

_APART = (46.0, 20.0)
"""Points from one labelled tick to the next, across and up."""
SHUT_AT = 4.0
"""What is past a hard stop covers all that lies under this."""


def dress(axes: Axes, picture: FrontierPicture) -> None:
    """Both knobs with their values, higher ones to the right and upward."""
    axes.set_xlim(*picture.panel.x_shown)
    axes.set_ylim(*picture.panel.y_shown)
    for knob, scale, shown, room, apart in (
        (picture.along, axes.xaxis, picture.panel.x_shown, ROOM[0], _APART[0]),
        (picture.knob, axes.yaxis, picture.panel.y_shown, ROOM[1], _APART[1]),
    ):
        ticks = grid_ticks(knob, *shown, int(room / apart))
        scale.set_ticks(ticks, [format_number(tick) for tick in ticks])
    axes.tick_params(labelsize=8.5)
    axes.grid(color=RULE, lw=0.5, zorder=0)
    axes.set_axisbelow(True)
    axes.set_xlabel(with_unit_of(picture.along))
    label = upright_label(picture.knob, _harder(picture.knob))
    axes.set_ylabel(label)
    axes.yaxis.set_label_coords(-0.11 if "\n" in label else -0.125, 0.5)


def _harder(knob: Knob) -> str:
    # The label is turned: what points right in it points up.
    if knob.harder is Harder.DOWN:
        return "harder downward  \N{LEFTWARDS ARROW}"
    return "harder upward  \N{RIGHTWARDS ARROW}"


def rows(picture: FrontierPicture) -> list[Fence]:
    """Upright ceilings, from the lowest row of labels above the picture to the highest."""
    seen = [fence for fence in picture.fences.lines if fence.upright]
    return [seen[at] for at in rows_outwards([_across(picture, fence) for fence in seen])]


def ceilings(axes: Axes, picture: FrontierPicture) -> None:
    """Ceilings as lines, own risk hatched, grey past the last one, all covered past a stop."""
    fences, top = picture.fences, picture.panel.y_shown[1]
    if fences.risky:
        xs, ys = zip(*fences.risky, strict=True)
        axes.fill_between(
            xs,
            ys,
            top,
            fc="none",
            ec=RISK,
            hatch="////",
            lw=0,
            zorder=0.5,
            label=risk_label(picture),
        )
    for region, order in ((fences.shut, 0.4), (fences.stopped, SHUT_AT)):
        if region:
            xs, ys = zip(*region, strict=True)
            axes.fill_between(xs, ys, top, fc=SHUT, ec="none", lw=0, zorder=order)
    for row, fence in enumerate(rows(picture)):
        looks = line_look(fence.limit) | {"zorder": SHUT_AT + 0.1}
        upright(axes, fence.places[0][0], row, **looks)
        label_above(axes, _across(picture, fence), row, fence_label(picture, fence, " "))
    labels = []
    for fence in fences.lines:
        if not fence.upright:
            xs, ys = zip(*fence.places, strict=True)
            axes.plot(xs, ys, color=INK, zorder=SHUT_AT + 0.1, **line_look(fence.limit))
            labels.append((_right_end(picture, fence), fence_label(picture, fence, "\n")))
    label_right(axes, labels)


def _across(picture: FrontierPicture, fence: Fence) -> float:
    return picture.panel.share(*fence.places[0])[0]


def _right_end(picture: FrontierPicture, fence: Fence) -> float:
    """How far up a level or slanting ceiling leaves the picture."""
    return min(max(picture.panel.share(*fence.places[-1])[1], 0.0), 1.0)
