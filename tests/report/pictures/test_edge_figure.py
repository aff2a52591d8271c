"""The drawn edge picture: what stands in it, and that nothing overlaps."""

from functools import cache

import pytest
from matplotlib.figure import Figure

from planner.report.pictures.edge.axes import LANES
from planner.report.pictures.edge.data import Kind
from planner.report.pictures.edge.figure import edge_figure
from tests.report.pictures.edge_studies import STUDIES, drawn
from tests.report.pictures.seen import boxes, outside, overlapping

every_study = pytest.mark.parametrize("name", STUDIES)


@cache
def figure_of(name: str) -> Figure:
    """The edge of a study, drawn."""
    return edge_figure(drawn(name))


@every_study
def test_every_kind_and_value_that_was_run_has_its_mark(name: str) -> None:
    """As many points in each kind's lane as there are values with such runs."""
    picture, axes = drawn(name), figure_of(name).axes[0]
    for kind in Kind:
        lines = [line for line in axes.lines if line.get_label() == kind.value]
        points = {tuple(point) for line in lines for point in line.get_xydata()}
        values = [mark.value for mark in picture.marks if mark.kind is kind]
        assert points == {(value, LANES[kind]) for value in values}


@every_study
def test_lanes_count_the_runs(name: str) -> None:
    """Beside the two lanes stands how many runs held and how many failed."""
    runs = STUDIES[name]().history.evidence
    held = sum(run.outcome.held for run in runs)
    shown = {text.get_text() for text in figure_of(name).axes[0].get_yticklabels()}
    assert {f"{held} passed", f"{len(runs) - held} failed"} <= shown


@every_study
def test_no_text_overlaps_another_or_the_border(name: str) -> None:
    """Everything written can be read: it lies inside the figure and clear of all other texts."""
    figure = figure_of(name)
    assert outside(figure) == []
    assert overlapping(figure) == []


@every_study
def test_title_and_conditions_stand_above_the_axes(name: str) -> None:
    """Words about the picture never run into what is drawn."""
    figure = figure_of(name)
    placed = boxes(figure)
    top = figure.axes[0].get_window_extent().y1
    heads = {text.get_text() for text in figure.texts}
    assert len(heads) == 2
    assert all(box.y0 > top for text, box in placed if text in heads)


def test_harder_is_to_the_right() -> None:
    """A clock's values rise to the right, a timing's fall."""
    rising = edge_figure(drawn("an evening")).axes[0].get_xlim()
    falling = edge_figure(drawn("a timing")).axes[0].get_xlim()
    assert rising[0] < rising[1]
    assert falling[0] > falling[1]


def test_shapes_tell_kinds_apart_without_colour() -> None:
    """No two kinds of mark share shape, filling and size."""
    axes = edge_figure(drawn("a timing")).axes[0]
    kinds = {kind.value for kind in Kind}
    looks = [
        (line.get_marker(), line.get_markerfacecolor() == "white", line.get_markersize())
        for line in axes.lines
        if line.get_label() in kinds
    ]
    assert len(set(looks)) == len(looks) == len(kinds)


def test_ceilings_are_named_with_their_values() -> None:
    """The region between everyday and own-risk ceiling is hatched and says what it is."""
    axes = edge_figure(drawn("an evening")).axes[0]
    words = " / ".join(text.get_text() for text in axes.texts)
    assert "everyday ceiling 5350 MHz" in words
    assert "AT YOUR OWN RISK (hatched) to 5450 MHz" in words
    hatched = [patch for patch in axes.patches if patch.get_hatch()]
    spans = [patch.get_window_extent().transformed(axes.transData.inverted()) for patch in hatched]
    assert [(round(s.x0), round(s.x1)) for s in spans] == [(5350, 5450)]


def test_without_an_own_risk_ceiling_nothing_is_hatched() -> None:
    """No region is own risk where none was given."""
    axes = edge_figure(drawn("no ceilings")).axes[0]
    assert not [patch for patch in axes.patches if patch.get_hatch()]
    assert "RISK" not in " ".join(text.get_text() for text in axes.texts)


def test_counts_are_left_out_where_marks_crowd() -> None:
    """Two runs at each of 134 values: the marks stay, their numbers would be a smear."""
    picture = drawn("crowded")
    assert {mark.count for mark in picture.marks} == {2}
    assert "2" not in {text.get_text() for text in edge_figure(picture).axes[0].texts}
    assert "2" in {text.get_text() for text in edge_figure(drawn("an evening")).axes[0].texts}


def test_a_dollar_sign_is_drawn_as_it_is() -> None:
    """Names are words, not formulas."""
    figure = edge_figure(drawn("long names"))
    assert "a $ewer and a $oup" in figure.texts[1].get_text()
    assert boxes(figure)
