"""The drawn frontier: what stands in it, that nothing overlaps, and that it needs no colour."""

from functools import cache

import pytest
from matplotlib.axes import Axes
from matplotlib.collections import PolyCollection
from matplotlib.colors import to_rgba
from matplotlib.figure import Figure

from planner.report.pictures.endings import Ending
from planner.report.pictures.frontier.figure import frontier_figure
from planner.report.pictures.inks import CURVE, RISK
from planner.report.pictures.shapes import RUNS
from tests.report.pictures.frontier_studies import STUDIES
from tests.report.pictures.seen import boxes, outside, overlapping
from tests.report.pictures.test_frontier_data import of

every_study = pytest.mark.parametrize("name", [*STUDIES, "crowd"])


@cache
def figure_of(name: str) -> tuple[Figure, Axes]:
    """The frontier of a study, drawn."""
    figure = frontier_figure(of(name))
    return figure, figure.axes[0]


def legend_of(axes: Axes) -> set[str]:
    """The words of the legend."""
    legend = axes.get_legend()
    assert legend is not None
    return {text.get_text() for text in legend.get_texts()}


@every_study
def test_no_text_overlaps_another_or_the_border(name: str) -> None:
    """Title, labels of ceilings, ticks, legend, the words inside; numbers of marks aside."""
    figure, _ = figure_of(name)
    assert outside(figure) == []
    words = [pair for pair in overlapping(figure) if not any(t.isdigit() for t in pair)]
    assert words == []


@every_study
def test_numbers_of_marks_do_not_run_into_each_other(name: str) -> None:
    """Those without room are left out, and the conditions say so."""
    figure, _ = figure_of(name)
    pairs = overlapping(figure)
    assert [pair for pair in pairs if all(text.isdigit() for text in pair)] == []


@every_study
def test_every_ending_has_its_marks_and_its_count(name: str) -> None:
    """As many marks of a shape as places; the legend says of how many runs."""
    picture = of(name)
    _, axes = figure_of(name)
    words = legend_of(axes)
    for ending in Ending:
        marks = [m for m in picture.marks.here if m.ending is ending and not m.aside]
        label = f"{ending.value} ({sum(mark.count for mark in marks)})"
        assert (label in words) == bool(marks)
        lines = [line for line in axes.lines if line.get_label() == label]
        assert sum(len(line.get_xydata()) for line in lines) == len(marks)
        assert all(line.get_marker() == RUNS[ending].marker for line in lines)


@every_study
def test_every_value_to_keep_has_its_square_and_the_best_a_heavy_one(name: str) -> None:
    """Open, so that the runs under it are seen; in a crowd those of own runs are left out."""
    picture = of(name)
    _, axes = figure_of(name)
    squares = [line for line in axes.lines if line.get_marker() == "s" and line.get_ms() >= 10]
    light = {tuple(p) for s in squares if s.get_mew() < 2 for p in s.get_xydata()}
    heavy = {tuple(p) for s in squares if s.get_mew() > 2 for p in s.get_xydata()}
    keep = picture.keep
    assert heavy == (set() if keep is None else {(keep.along, keep.value)})
    shown = [p for p in picture.points if p.asked or not p.runs or not picture.marks.crowded]
    wanted = {(p.along, p.kept) for p in shown if p.kept is not None and picture.runs}
    assert light | heavy >= wanted
    assert light <= wanted
    assert all(square.get_mfc() == "none" for square in squares)


@pytest.mark.parametrize(("name", "risky"), [("an evening", True), ("derived", True)])
def test_what_lies_above_everyday_is_hatched_and_named(name: str, risky: bool) -> None:
    """In shape and words, not in colour alone."""
    figure, axes = figure_of(name)
    hatched = [c for c in axes.collections if c.get_hatch()]
    assert bool(hatched) == risky
    assert any(word.startswith("AT YOUR OWN RISK: above everyday") for word in legend_of(axes))
    said = " ".join(text for text, _ in boxes(figure))
    assert "everyday ceiling" in said.replace("\n", " ")


def test_without_a_higher_voltage_shown_nothing_is_hatched() -> None:
    """No ceiling within reach: no region, no words of risk."""
    _, axes = figure_of("nothing holds")
    assert any("RISK" in word for word in legend_of(axes))
    made = of("no ceilings")
    assert made.fences.stopped == ()


def test_the_band_is_lighter_where_no_run_is_made_or_asked_for() -> None:
    """And its line is broken there: told apart without colour."""
    _, axes = figure_of("an evening")
    bands = [
        c.get_alpha()
        for c in axes.collections
        if isinstance(c, PolyCollection) and not c.get_hatch() and c.get_alpha()
    ]
    assert len(set(bands)) == 2
    styles = {line.get_linestyle() for line in axes.lines if line.get_color() == CURVE}
    assert {"-", "--"} <= styles


def test_in_grey_edge_failures_and_passes_stay_apart() -> None:
    """Luminance of the curve, of a crash and of the hatching (weights of ITU-R BT.601)."""
    shades = [
        sum(w * c for w, c in zip((0.299, 0.587, 0.114), to_rgba(ink)[:3], strict=True))
        for ink in (CURVE, "white", RISK)
    ]
    assert min(abs(a - b) for i, a in enumerate(shades) for b in shades[:i]) > 0.15
    assert RUNS[Ending.PASSED].marker != RUNS[Ending.CRASH].marker


def test_the_point_to_keep_has_its_words_beside_it() -> None:
    """Value, chance, interval; the line says on which side runs hold."""
    figure, _ = figure_of("an evening")
    said = {text for text, _ in boxes(figure)}
    assert any(text.startswith("keep 5200 MHz at 1.28 V\npasses with 9") for text in said)
    assert "runs hold below the line" in said
    figure, _ = figure_of("downwards")
    assert "runs hold above the line" in {text for text, _ in boxes(figure)}


def test_a_proposal_is_a_star_with_its_number() -> None:
    """Open, and named in the legend."""
    _, axes = figure_of("own risk accepted")
    stars = [line for line in axes.lines if line.get_marker() == "*"]
    assert len(stars) == 1
    assert stars[0].get_label() in legend_of(axes)
    assert "AT YOUR OWN RISK" in stars[0].get_label()


def test_edges_beyond_the_range_are_tips_at_the_border() -> None:
    """They are named, and no dot stands for them."""
    _, axes = figure_of("nothing holds")
    assert "edge beyond the range" in legend_of(axes)


def test_a_dollar_sign_is_drawn_as_it_is() -> None:
    """Names are words, not formulas."""
    figure, _ = figure_of("long names")
    assert any("a $ewer and a $oup" in text for text, _ in boxes(figure))
