"""The frame of the edge picture: scales, lanes for the runs, the target, the ceilings."""

from matplotlib.axes import Axes
from matplotlib.ticker import MaxNLocator

from planner.domain.quantity import format_number
from planner.report.edge_bounds import Bound, Limit
from planner.report.edge_data import EdgePicture, Kind
from planner.report.edge_words import short
from planner.report.inks import INK, RISK, RULE, SHUT, SOFT

LANES = {Kind.PASSED: 1.115, Kind.STOPPED: 1.05, Kind.ERRORS: -0.05, Kind.FAILED: -0.115}
"""Heights of the lanes of the runs, on the scale of the probability."""
EDGE_LANE = -0.26
_TOP, _BOTTOM = 1.27, -0.36
ROW_POINTS = 12.0
"""Height of one row of ceiling labels above the axes."""


def dress(axes: Axes, picture: EdgePicture) -> None:
    """Scales, labels, lanes and the target line."""
    knob = picture.knob
    axes.set_ylim(_BOTTOM, _TOP)
    axes.set_xlim(*(knob.at_hardness(end) for end in picture.shown))
    axes.xaxis.set_major_locator(MaxNLocator(nbins=9, steps=[1, 2, 2.5, 5, 10]))
    axes.ticklabel_format(axis="x", style="plain", useOffset=False)
    unit = f" ({short(knob.unit)})" if knob.unit else ""
    axes.set_xlabel(f"{short(knob.name)}{unit}, harder to the right  \N{RIGHTWARDS ARROW}")
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
    """The ceilings that get a label, from the lowest row to the highest.

    Labels read towards the middle of the picture, so outer ceilings stand higher: their lines
    then pass beside the labels of inner ones.
    """
    seen = [b for b in picture.bounds if 0 <= picture.across(b.value) <= 1 or _hatched(picture, b)]
    return sorted(seen, key=lambda bound: abs(_anchor(picture, bound) - 0.5))


def dress_bounds(axes: Axes, picture: EdgePicture, row_height: float) -> None:
    """Ceilings as lines, the own-risk region hatched, what nothing may pass in grey.

    `row_height`: of a row of labels, as a share of the axes' height.
    """
    found = {bound.limit: bound.value for bound in picture.bounds}
    everyday, risk = found.get(Limit.EVERYDAY), found.get(Limit.OWN_RISK)
    if everyday is not None and risk is not None:
        axes.axvspan(everyday, risk, fc="none", ec=RISK, hatch="////", lw=0, zorder=0)
    end = max(axes.get_xlim())
    if Limit.HARD_STOP in found and found[Limit.HARD_STOP] < end:
        axes.axvspan(found[Limit.HARD_STOP], end, color=SHUT, lw=0, zorder=0)
    for row, bound in enumerate(rows(picture)):
        base = 1 + row_height * (row + 0.2)
        if 0 <= picture.across(bound.value) <= 1:
            _line(axes, bound, base + 0.6 * row_height)
        _label(axes, picture, bound, base)


def _line(axes: Axes, bound: Bound, top: float) -> None:
    hard = bound.limit is Limit.HARD_STOP
    axes.plot(
        [bound.value] * 2,
        [0, top],
        transform=axes.get_xaxis_transform(),
        color=INK,
        lw=1.8 if hard else 1.0,
        ls="-" if hard else (0, (2, 2)),
        clip_on=False,
        zorder=1,
    )


def _label(axes: Axes, picture: EdgePicture, bound: Bound, base: float) -> None:
    anchor = _anchor(picture, bound)
    axes.annotate(
        _words(picture, bound),
        (anchor, base),
        xycoords="axes fraction",
        xytext=(-4 if anchor > 0.5 else 4, 0),
        textcoords="offset points",
        ha="right" if anchor > 0.5 else "left",
        va="bottom",
        size=8,
        bbox={"fc": "white", "ec": "none", "pad": 0.8},  # interrupts the lines of outer ceilings
    )


def _words(picture: EdgePicture, bound: Bound) -> str:
    shown = picture.knob.show(bound.value)
    of = f" of {short(bound.of)}" if bound.of else ""
    if bound.limit is not Limit.OWN_RISK:
        return f"{bound.limit.value}{of} {shown}"
    taken = picture.accepted
    accepted = "" if taken is None else f", accepted to {picture.knob.show(taken)}"
    return f"AT YOUR OWN RISK (hatched){of} to {shown}{accepted}"


def _anchor(picture: EdgePicture, bound: Bound) -> float:
    return min(max(picture.across(bound.value), 0.0), 1.0)


def _hatched(picture: EdgePicture, bound: Bound) -> bool:
    """Whether the bound ends an own-risk region of which a part is shown."""
    if bound.limit is not Limit.OWN_RISK:
        return False
    ends = [picture.across(b.value) for b in picture.bounds if b.limit is Limit.EVERYDAY]
    ends.append(picture.across(bound.value))
    return min(ends) < 1 and max(ends) > 0
