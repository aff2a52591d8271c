"""The drawn map: what stands in it, that nothing overlaps, and that it needs no colour."""

from functools import cache
from itertools import combinations

import pytest
from matplotlib.axes import Axes
from matplotlib.collections import PolyCollection
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from planner.report.pictures.endings import Ending
from planner.report.pictures.inks import SOFT
from planner.report.pictures.map.cards import cards_of, stacks
from planner.report.pictures.map.cells import words
from planner.report.pictures.map.data import ROOM, knob_map
from planner.report.pictures.map.figure import map_figure
from planner.report.pictures.shapes import RUNS
from planner.searching import Searching
from tests.report.pictures.seen import boxes, outside, overlapping
from tests.report.pictures.studies import STUDIES
from tests.report.pictures.test_map_data import CROWDS, drawn, of

every_history = pytest.mark.parametrize("name", [*STUDIES, *CROWDS])


@cache
def figure_of(name: str) -> tuple[Figure, Axes]:
    """The map of a study, drawn."""
    figure = map_figure(drawn(name))
    return figure, figure.axes[0]


@every_history
def test_every_ending_in_a_cell_has_its_mark(name: str) -> None:
    """As many full marks of a shape as cells in which runs ended so."""
    picture = drawn(name)
    _, axes = figure_of(name)
    for ending in Ending:
        lines = [line for line in axes.lines if line.get_label() == ending.value]
        cells = [c for c in picture.cells if ending in dict(c.here)]
        assert sum(len(line.get_xydata()) for line in lines) == len(cells)


@every_history
def test_every_cell_says_its_passes_of_its_runs(name: str) -> None:
    """So the share can be read without colour."""
    _, axes = figure_of(name)
    counts = sorted(text.get_text() for text in axes.texts if "/" in text.get_text())
    wanted = [words(stack.tally) for cell in drawn(name).cells for stack in stacks(cell)]
    assert counts == sorted(wanted)


@every_history
def test_no_text_overlaps_another_or_the_border(name: str) -> None:
    """Counts, ticks, labels, legend and title."""
    figure, _ = figure_of(name)
    assert outside(figure) == []
    assert overlapping(figure) == []


@every_history
def test_marks_of_a_card_stand_clear_of_each_other_and_inside(name: str) -> None:
    """Their middles are further apart than they are wide."""
    picture = drawn(name)
    cards = cards_of(picture)
    low, high = picture.x.ends
    point = (high - low) / ROOM[0]
    for cell in picture.cells:
        for stack in stacks(cell):
            size = cards.mark_size(stack.aside) * point
            places = [x for _, (x, _) in cards.marks(cell, stack)]
            assert all(abs(a - b) > 1.05 * size for a, b in combinations(places, 2))
            (left, _), _, (right, _), _ = cards.inset(cell.column, cell.row, 0)
            ends = sorted((left, right))
            plate = [x for x, _ in cards.plate(cell, stack)]
            if stack.aside and cell.here:  # the count stands beside the marks, not below
                assert all(x + size / 2 < min(plate) or x - size / 2 > max(plate) for x in places)
            assert ends[0] < min(plate)
            assert max(plate) < ends[1]
            assert all(ends[0] < x - size / 2 and x + size / 2 < ends[1] for x in places)


def test_marks_of_runs_aside_are_smaller_and_open() -> None:
    """Of the evening's: two passes and a crash."""
    picture = drawn("an evening")
    cards, (_, axes) = cards_of(picture), figure_of("an evening")
    pale = [line for line in axes.lines if line.get_markeredgecolor() == SOFT]
    assert sum(len(line.get_xydata()) for line in pale) == 2
    assert {line.get_markerfacecolor() for line in pale} == {"white"}
    assert cards.small_mark < 0.7 * cards.mark


def test_shapes_tell_endings_apart_without_colour() -> None:
    """No two ways of ending share shape, filling and size."""
    looks = {(s.marker, s.fill == "white", s.points) for s in RUNS.values()}
    assert len(looks) == len(RUNS) == len(Ending)


def _hatched(axes: Axes) -> list[PolyCollection]:
    return [c for c in axes.collections if c.get_hatch()]


@pytest.mark.parametrize(("name", "risky"), [("an evening", True), ("choice", False)])
def test_what_lies_above_everyday_is_hatched_and_named(name: str, risky: bool) -> None:
    """And nothing is where no ceiling was given."""
    figure, axes = figure_of(name)
    assert bool(_hatched(axes)) == risky
    said = " ".join(text for text, _ in boxes(figure))
    assert ("AT YOUR OWN RISK" in said) == risky
    legend = axes.get_legend()
    assert legend is not None
    named = [t.get_text() for t in legend.get_texts() if t.get_text().startswith("AT YOUR OWN")]
    assert bool(named) == risky


def test_failed_tiles_are_darker_than_passed_ones() -> None:
    """In grey too."""
    _, axes = figure_of("forty runs")
    cells = [cell for cell in drawn("forty runs").cells if cell.here]
    tiles = next(c for c in axes.collections if c.get_zorder() == 1)
    greys = {
        words(cell.here): sum(w * c for w, c in zip((0.299, 0.587, 0.114), shade, strict=False))
        for cell, shade in zip(cells, tiles.get_facecolor(), strict=True)
    }
    assert greys["0/1"] < greys["1/1"] - 0.1


def test_frames_mark_the_proposal_and_the_setting_to_keep() -> None:
    """Open ones, told apart by their lines, around the cells that they mean."""
    picture = drawn("an evening")
    _, axes = figure_of("an evening")
    frames = [p for p in axes.patches if isinstance(p, Rectangle)]
    assert {f.get_label() for f in frames} == {picture.keep.words, picture.pending[0].words}  # type: ignore[union-attr]
    assert all(f.get_facecolor()[3] == 0 for f in frames)
    assert len({f.get_linestyle() for f in frames}) == 2


def test_harder_is_to_the_right_and_higher_values_stand_higher() -> None:
    """A timing falls to the right; upward values always rise, and the label says what is harder."""
    _, axes = figure_of("down")
    assert axes.get_xlim()[0] > axes.get_xlim()[1]
    assert axes.get_ylim()[0] < axes.get_ylim()[1]
    assert "harder downward" in axes.get_ylabel()
    _, axes = figure_of("an evening")
    assert axes.get_xlim()[0] < axes.get_xlim()[1]


@every_history
def test_ticks_stand_on_values_of_the_knobs(name: str) -> None:
    """Labelled with the very value at that place."""
    picture = drawn(name)
    _, axes = figure_of(name)
    for axis, scale in ((picture.x, axes.xaxis), (picture.y, axes.yaxis)):
        for tick, label in zip(scale.get_ticklocs(), scale.get_ticklabels(), strict=True):
            assert float(axis.value(round(tick))) == float(label.get_text())


def test_runs_beside_other_values_are_said_to_be() -> None:
    """The legend says how many they are; without any it is silent."""
    _, axes = figure_of("an evening")
    legend = axes.get_legend()
    assert legend is not None
    assert "small, pale: 3 runs with other knobs or workload" in {
        t.get_text() for t in legend.get_texts()
    }
    _, axes = figure_of("down")
    legend = axes.get_legend()
    assert legend is not None
    assert not any("pale" in t.get_text() for t in legend.get_texts())


def test_shared_cells_are_said_to_be() -> None:
    """Under the title, with how many values of which knob."""
    figure, _ = figure_of("crowd")
    picture = drawn("crowd")
    said = " ".join(figure.texts[1].get_text().replace("\N{NO-BREAK SPACE}", " ").split())
    assert f"Values that share a cell: {picture.x.every} of core_clock" in said
    assert "share a cell" not in map_figure(drawn("down")).texts[1].get_text()


def test_a_dollar_sign_is_drawn_as_it_is() -> None:
    """Names are words, not formulas."""
    told = of("long names")
    right, up = list(told.definition.knobs.values())[:2]
    assert (
        "a $ewer and a $oup"
        in map_figure(knob_map(told, right, up, Searching())).texts[1].get_text()
    )
