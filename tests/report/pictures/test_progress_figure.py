"""The drawn progress picture: panels, marks, hatching, and that nothing overlaps."""

from functools import cache

import pytest
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from planner.report.pictures.endings import Ending
from planner.report.pictures.progress.figure import progress_figure
from tests.report.pictures.seen import boxes, outside, overlapping
from tests.report.pictures.studies import STUDIES
from tests.report.pictures.test_progress_data import CROWDS, drawn

every_history = pytest.mark.parametrize("name", [*STUDIES, *CROWDS])


@cache
def figure_of(name: str) -> tuple[Figure, Axes]:
    """The picture of a study, and its upper panel."""
    figure = progress_figure(drawn(name))
    return figure, figure.axes[0]


@every_history
def test_every_run_at_the_study_s_values_has_its_mark(name: str) -> None:
    """At its minutes and value, in the shape of its ending."""
    picture = drawn(name)
    _, axes = figure_of(name)
    for ending in Ending:
        lines = [line for line in axes.lines if line.get_label() == ending.value]
        points = {tuple(point) for line in lines for point in line.get_xydata()}
        wanted = {(m.minutes, m.value) for m in picture.tried if m.ending is ending and not m.aside}
        assert points == wanted


@every_history
def test_no_text_overlaps_another_or_the_border(name: str) -> None:
    """Labels, ticks, marks' words, legend, title."""
    figure, _ = figure_of(name)
    assert outside(figure) == []
    assert overlapping(figure) == []


@every_history
def test_a_second_panel_stands_below_where_there_are_scores(name: str) -> None:
    """On the same scale of minutes."""
    figure, axes = figure_of(name)
    assert len(figure.axes) == (1 if drawn(name).scores is None else 2)
    assert {a.get_xlim() for a in figure.axes} == {axes.get_xlim()}
    assert figure.axes[-1].get_xlabel() == "bench minutes spent"


def test_scores_that_count_for_nothing_have_their_own_shape() -> None:
    """Open, and not the claimable ones' marker."""
    figure, _ = figure_of("an evening")
    lines = {line.get_label(): line for line in figure.axes[1].lines}
    plain = lines["score"]
    idle = lines["score that counts for nothing (capped or failed)"]
    assert len(plain.get_xydata()) == 3
    assert len(idle.get_xydata()) == 2
    assert plain.get_marker() != idle.get_marker()
    assert "best claimable score 2290, AT YOUR OWN RISK" in lines


def test_harder_is_upward() -> None:
    """A clock's values rise upward, a timing's fall."""
    _, rising = figure_of("an evening")
    _, falling = figure_of("down")
    assert rising.get_ylim()[0] < rising.get_ylim()[1]
    assert falling.get_ylim()[0] > falling.get_ylim()[1]


@pytest.mark.parametrize(("name", "top"), [("an evening", 5350), ("down", 42)])
def test_all_above_the_everyday_ceiling_is_hatched_and_named(name: str, top: float) -> None:
    """From the ceiling to the picture's end at higher values, whichever way that is."""
    _, axes = figure_of(name)
    (patch,) = (p for p in axes.patches if p.get_hatch())
    ends = patch.get_path().vertices @ patch.get_patch_transform().get_matrix()[:2, :2].T
    heights = {round(y, 6) for _, y in ends + patch.get_patch_transform().get_matrix()[:2, 2]}
    assert heights == {top, round(max(axes.get_ylim()), 6)}
    legend = axes.figure.axes[-1].get_legend()
    assert legend is not None
    assert any("AT YOUR OWN RISK" in text.get_text() for text in legend.get_texts())


def test_nothing_is_hatched_without_a_ceiling() -> None:
    """Nor is there a word of risk."""
    figure, axes = figure_of("choice")
    assert not [p for p in axes.patches if p.get_hatch()]
    assert "RISK" not in " ".join(text for text, _ in boxes(figure))


def test_marks_between_runs_cross_both_panels() -> None:
    """With their words above the upper one."""
    figure, upper = figure_of("an evening")
    picture = drawn("an evening")
    for axes in figure.axes:
        upright = {line.get_xdata()[0] for line in axes.lines if len(set(line.get_xdata())) == 1}
        assert {told.minutes for told in picture.told} <= upright
    assert {told.words for told in picture.told} <= {text.get_text() for text in upper.texts}


def test_of_many_marks_the_last_five_have_words() -> None:
    """The others keep their lines."""
    picture = drawn("long names")
    assert len(picture.told) == 5
    _, upper = figure_of("long names")
    assert sum(text.get_text().startswith("changed") for text in upper.texts) == 5


def test_shared_marks_and_thinned_intervals_are_said_to_be() -> None:
    """Under the title."""
    figure, _ = figure_of("crowd")
    said = " ".join(figure.texts[1].get_text().replace("\N{NO-BREAK SPACE}", " ").split())
    assert "minutes share a mark" in said
    assert f"The interval is told after every {drawn('crowd').every} runs" in said
    figure, _ = figure_of("an evening")
    assert "share a mark" not in figure.texts[1].get_text()
