"""What the progress picture draws into its frames."""

from collections.abc import Sequence
from typing import Any

from matplotlib.axes import Axes

from planner.report.pictures.endings import Ending
from planner.report.pictures.figure import label_above, rows_outwards, upright
from planner.report.pictures.inks import CURVE, INK, SOFT
from planner.report.pictures.progress.data import Progress
from planner.report.pictures.progress.milestones import Told
from planner.report.pictures.progress.runs import MANY, Lost, Tried
from planner.report.pictures.progress.scores import Scores
from planner.report.pictures.progress.words import best_score
from planner.report.pictures.shapes import RUNS

_ASIDE = 0.6
"""By how much marks shrink that stand beside other values of the other knobs."""
_SHARED = 0.5
"""By how much all shrink where many share the picture."""
_DRAWN = 2500
"""More marks than this stand in an SVG as one image, or it would weigh more than a megabyte."""
_LABELLED = 5
"""So many upright marks have their words above them; more would push the picture down."""
_LEVEL = "edge, 90% interval"


def band(axes: Axes, picture: Progress) -> None:
    """The interval from each point in time until the next."""
    told = [*picture.band, picture.band[-1]]
    minutes = [point.minutes for point in picture.band] + [axes.get_xlim()[1]]
    minutes[0] = axes.get_xlim()[0]
    ends = [point.low for point in told], [point.high for point in told]
    axes.fill_between(
        minutes, *ends, step="post", color=CURVE, alpha=0.22, lw=0, zorder=1.5, label=_LEVEL
    )
    if picture.gathered is not None:  # marks cover all of it: its borders stand above them
        for end in ends:
            axes.plot(minutes, end, drawstyle="steps-post", color=CURVE, lw=0.9, zorder=7)


def runs(axes: Axes, picture: Progress) -> None:
    """Every run as its ending's mark; smaller and pale where another knob stood elsewhere."""
    for aside in (True, False):
        for ending in Ending:
            marks = [m for m in picture.tried if m.ending is ending and m.aside is aside]
            if marks:
                _draw(axes, picture, marks, ending, aside)
    if picture.aside:
        axes.plot(
            [], [], ls="", marker="o", ms=4, mfc="white", mec=SOFT, mew=0.6, label=_aside(picture)
        )


def _draw(axes: Axes, picture: Progress, marks: list[Tried], ending: Ending, aside: bool) -> None:
    shape = RUNS[ending]
    size = shape.points * (_ASIDE if aside else 1) * (1 if picture.gathered is None else _SHARED)
    axes.plot(
        [mark.minutes for mark in marks],
        [mark.value for mark in marks],
        ls="",
        marker=shape.marker,
        ms=size,
        mfc="white" if aside else shape.fill,
        mec=SOFT if aside else shape.outline,
        mew=0.6 if aside or picture.gathered is not None else 1.1,
        label="" if aside else ending.value,
        zorder=4 if aside else 5,
        rasterized=len(picture.tried) > _DRAWN,
    )


def _aside(picture: Progress) -> str:
    return f"small, pale: {picture.aside} with other knobs or workload"


def best(axes: Axes, picture: Progress) -> None:
    """The hardest value that had held, until a harder one did."""
    if picture.best:
        _steps(axes, picture.best, lw=1.6, zorder=3, label="hardest that held so far")


def scores(axes: Axes, found: Scores) -> None:
    """Scores as points, those that count for nothing apart, and the best claimable so far."""
    for claimable, marker, fill, label in (
        (True, ".", CURVE, "score"),
        (False, "^", "white", "score that counts for nothing (capped or failed)"),
    ):
        marks = [mark for mark in found.marks if mark.claimable is claimable]
        if marks:
            axes.plot(
                [mark.minutes for mark in marks],
                [mark.score for mark in marks],
                ls="",
                marker=marker,
                ms=6 * (1 if len(found.marks) <= MANY else _SHARED),
                mfc=fill,
                mec=CURVE if claimable else INK,
                mew=0.9 if len(found.marks) <= MANY else 0.4,
                label=label,
                zorder=4,
            )
    if found.best:
        _steps(axes, found.best, lw=1.2, ls=(0, (5, 1.5)), zorder=3, label=best_score(found))


def lost(axes: Axes, found: Lost) -> None:
    """The minutes of failed runs, as a strip along the lower border."""
    spans = [(start, end - start) for start, end in found.spans]
    if spans:
        axes.broken_barh(
            spans,
            (0, 0.018),
            transform=axes.get_xaxis_transform(),
            color=SOFT,
            lw=0,
            zorder=2,
            label="minutes of failed runs, with recovery",
        )


def told(axes: Axes, marks: Sequence[Told], labelled: bool) -> int:
    """Upright lines where something else was told; gives how many of them have words above.

    Those are the last few, where `labelled`.
    """
    left, right = axes.get_xlim()
    places = [(mark.minutes - left) / (right - left) for mark in marks]
    named = range(max(0, len(places) - _LABELLED), len(places)) if labelled else range(0)
    rows = {named[at]: row for row, at in enumerate(rows_outwards([places[n] for n in named]))}
    for at, mark in enumerate(marks):
        row = rows.get(at)
        upright(axes, mark.minutes, row, color=INK, lw=1.0, ls=(0, (1, 2)), zorder=3)
        if row is not None:
            label_above(axes, places[at], row, mark.words)
    return len(rows)


def _steps(axes: Axes, steps: tuple[tuple[float, float], ...], **looks: Any) -> None:
    minutes = [at for at, _ in steps] + [axes.get_xlim()[1]]
    values = [value for _, value in steps] + [steps[-1][1]]
    axes.plot(minutes, values, drawstyle="steps-post", color=INK, **looks)
