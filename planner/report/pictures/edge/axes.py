"""The frame of the edge picture: scales, lanes for the runs, the target, the ceilings."""

from matplotlib.axes import Axes
from matplotlib.ticker import MaxNLocator

from planner.domain.quantity import format_number
from planner.report.pictures.ceilings import Bound, Limit, line_look
from planner.report.pictures.edge.data import EdgePicture, Kind
from planner.report.pictures.figure import label_above, rows_outwards, upright
from planner.report.pictures.inks import INK, RISK, RULE, SHUT, SOFT
from planner.report.pictures.words import short, with_unit_of

LANES = {Kind.PASSED: 1.115, Kind.STOPPED: 1.05, Kind.ERRORS: -0.05, Kind.FAILED: -0.115}
"""Heights of the lanes of the runs, on the scale of the probability."""
EDGE_LANE = -0.26
_TOP, _BOTTOM = 1.27, -0.36


def dress(axes: Axes, picture: EdgePicture) -> None:
    """Scales, labels, lanes and the target line."""
    knob = picture.knob
    axes.set_ylim(_BOTTOM, _TOP)
    axes.set_xlim(*(knob.at_hardness(end) for end in picture.shown))
    axes.xaxis.set_major_locator(MaxNLocator(nbins=9, steps=[1, 2, 2.5, 5, 10]))
    axes.ticklabel_format(axis="x", style="plain", useOffset=False)
    axes.set_xlabel(f"{with_unit_of(knob)}, harder to the right  \N{RIGHTWARDS ARROW}")
    axes.set_ylabel("chance that a run passes")
    axes.yaxis.set_label_coords(-0.135, (0.5 - _BOTTOM) / (_TOP - _BOTTOM))
    _ticks(axes, picture)
    for lane in (LANES[Kind.PASSED], LANES[Kind.FAILED], EDGE_LANE):
        axes.axhline(lane, color=RULE, lw=0.6, zorder=0)
    for end in (0.0, 1.0):
        axes.axhline(end, color=SOFT, lw=0.8, zorder=1)
    _target(axes, picture.target)


def _ticks(axes: Axes, picture: EdgePicture) -> None:
    held = sum(mark.count for mark in picture.marks if mark.kind.held)
    failed = sum(mark.count for mark in picture.marks if not mark.kind.held)
    shares = (0.0, 0.25, 0.5, 0.75, 1.0)
    axes.set_yticks(
        [EDGE_LANE, LANES[Kind.FAILED], *shares, LANES[Kind.PASSED]],
        ["edge", f"{failed} failed", *(f"{s:.0%}" for s in shares), f"{held} passed"],
    )
    axes.tick_params(axis="y", length=0)
    axes.tick_params(labelsize=8.5)


def _target(axes: Axes, target: float) -> None:
    axes.axhline(target, color=INK, lw=1.0, ls=(0, (6, 3)), zorder=2)
    axes.annotate(
        f"target\n{format_number(round(100 * target, 4))}%",
        (1, target),
        xycoords=("axes fraction", "data"),
        xytext=(5, 0),
        textcoords="offset points",
        va="center",
    )


def rows(picture: EdgePicture) -> list[Bound]:
    """The ceilings that get a label, from the lowest row to the highest."""
    seen = [b for b in picture.bounds if 0 <= picture.across(b.value) <= 1 or _hatched(picture, b)]
    return [seen[at] for at in rows_outwards([picture.across(bound.value) for bound in seen])]


def dress_bounds(axes: Axes, picture: EdgePicture) -> None:
    """Ceilings as lines, the own-risk region hatched, what nothing may pass in grey."""
    found = {bound.limit: bound.value for bound in picture.bounds}
    everyday, risk = found.get(Limit.EVERYDAY), found.get(Limit.OWN_RISK)
    if everyday is not None and risk is not None:
        axes.axvspan(everyday, risk, fc="none", ec=RISK, hatch="////", lw=0, zorder=0)
    end = max(axes.get_xlim())
    if Limit.HARD_STOP in found and found[Limit.HARD_STOP] < end:
        axes.axvspan(found[Limit.HARD_STOP], end, color=SHUT, lw=0, zorder=0)
    for row, bound in enumerate(rows(picture)):
        place = picture.across(bound.value)
        if 0 <= place <= 1:
            upright(axes, bound.value, row, **line_look(bound.limit))
        label_above(axes, place, row, _words(picture, bound))


def _words(picture: EdgePicture, bound: Bound) -> str:
    shown = picture.knob.show(bound.value)
    of = f" of {short(bound.of)}" if bound.of else ""
    if bound.limit is not Limit.OWN_RISK:
        return f"{bound.limit.value}{of} {shown}"
    taken = picture.accepted
    accepted = "" if taken is None else f", accepted to {picture.knob.show(taken)}"
    return f"AT YOUR OWN RISK (hatched){of} to {shown}{accepted}"


def _hatched(picture: EdgePicture, bound: Bound) -> bool:
    """Whether the bound ends an own-risk region of which a part is shown."""
    if bound.limit is not Limit.OWN_RISK:
        return False
    ends = [picture.across(b.value) for b in picture.bounds if b.limit is Limit.EVERYDAY]
    ends.append(picture.across(bound.value))
    return min(ends) < 1 and max(ends) > 0
