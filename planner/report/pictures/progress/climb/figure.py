"""The picture of a search over many knobs, put together: scores, below them chances taken."""

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from planner.report.pictures.endings import Ending
from planner.report.pictures.figure import finish, label_right, look, new_figure
from planner.report.pictures.inks import CURVE, INK, RULE
from planner.report.pictures.progress import layers, panel
from planner.report.pictures.progress.climb.data import Climb
from planner.report.pictures.progress.climb.words import conditions, noise_words, verdict
from planner.report.pictures.progress.scores import Scores
from planner.report.pictures.progress.words import score_text
from planner.report.pictures.shapes import RUNS
from planner.report.pictures.words import short

_SCORES, _CHANCES, _GAP = 2.9, 1.9, 0.16
"""Inches of the upper and the lower panel, and between them."""
_OWN = -0.16
"""Height of the lane of runs without a stated chance, on the scale of chances."""
_NEAR = 0.6
"""A score to beat is brought into the picture if it lies within this share of the scores' span."""
_SHARED = 0.5
"""By how much marks shrink where many share the picture."""


def climb_figure(picture: Climb) -> Figure:
    """Scores over the minutes with the best so far; below, the chance stated before each run."""
    upper = 0.0 if picture.scores is None else _SCORES + _GAP
    with look():
        figure = new_figure(panel.WIDTH, upper + _CHANCES)
        above = 0
        if picture.scores is not None:
            axes = panel.new_panel(figure, _CHANCES + _GAP, _SCORES)
            _scores(axes, picture, picture.scores)
            above = layers.told(axes, picture.told, labelled=True)
        lower = panel.new_panel(figure, 0.0, _CHANCES)
        _chances(lower, picture)
        words = layers.told(lower, picture.told, labelled=picture.scores is None)
        panel.dress_minutes(lower)
        finish(figure, verdict(picture), conditions(picture), above or words)
    return figure


def _scores(axes: Axes, picture: Climb, scores: Scores) -> None:
    panel.dress_scores(axes, picture.minutes, scores)
    axes.tick_params(labelbottom=False)
    _goals(axes, picture)
    _noise(axes, picture, scores)
    layers.scores(axes, scores)


def _noise(axes: Axes, picture: Climb, scores: Scores) -> None:
    """What repeats of the best so far would give."""
    if not scores.best or picture.noise is None:
        return
    minutes = [at for at, _ in scores.best] + [axes.get_xlim()[1]]
    best = [score for _, score in scores.best] + [scores.best[-1][1]]
    spread = 2 * picture.noise
    axes.fill_between(
        minutes,
        [score * (1 - spread) for score in best],
        [score * (1 + spread) for score in best],
        step="post",
        color=CURVE,
        alpha=0.18,
        lw=0,
        zorder=1.5,
        label=noise_words(picture),
    )


def _goals(axes: Axes, picture: Climb) -> None:
    """Scores to beat that lie near, as level lines."""
    low, high = axes.get_ylim()
    room = _NEAR * (high - low)
    near = [(name, score) for name, score in picture.beat if low - room <= score <= high + room]
    if not near:
        return
    ends = [low, high, *(score for _, score in near)]
    pad = 0.05 * (max(ends) - min(ends))
    low, high = min(low, min(ends) - pad), max(high, max(ends) + pad)
    axes.set_ylim(low, high)
    for _, score in near:
        axes.axhline(score, color=INK, lw=1.0, ls=(0, (2, 2)), zorder=2)
    label_right(
        axes,
        [
            ((score - low) / (high - low), f"to beat: {score_text(score)}\n{short(name, 18)}")
            for name, score in near
        ],
    )


def _chances(axes: Axes, picture: Climb) -> None:
    """Every run at the chance to pass that was stated before it, in the shape of its ending."""
    panel.dress_time(axes, picture.minutes)
    own = any(mark.chance is None for mark in picture.taken)
    axes.set_ylim(-0.3 if own else -0.1, 1.1)
    ticks, names = [0.0, 0.5, 1.0], ["0%", "50%", "100%"]
    if own:
        axes.axhline(_OWN, color=RULE, lw=0.6, zorder=0)
        ticks, names = [_OWN, *ticks], ["your own", *names]
    axes.set_yticks(ticks, names)
    axes.set_ylabel("chance stated")
    axes.yaxis.set_label_coords(-0.125, 0.5)
    axes.grid(axis="y", color=RULE, lw=0.6, zorder=0)
    axes.set_axisbelow(True)
    layers.lost(axes, picture.lost)
    for ending in Ending:
        _marks(axes, picture, ending)


def _marks(axes: Axes, picture: Climb, ending: Ending) -> None:
    marks = [mark for mark in picture.taken if mark.ending is ending]
    if not marks:
        return
    shape = RUNS[ending]
    axes.plot(
        [mark.minutes for mark in marks],
        [_OWN if mark.chance is None else mark.chance for mark in marks],
        ls="",
        marker=shape.marker,
        ms=shape.points * (_SHARED if picture.gathered else 1),
        mfc=shape.fill,
        mec=shape.outline,
        mew=0.6 if picture.gathered else 1.1,
        label=ending.value,
        zorder=5,
    )
