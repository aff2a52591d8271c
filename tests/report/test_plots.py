"""The drawn edge picture: what stands in it, that nothing overlaps, and the files it makes."""

from itertools import combinations
from pathlib import Path
from xml.etree import ElementTree

import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.text import Text
from matplotlib.transforms import Bbox

from planner.errors import InputError
from planner.report.edge_axes import LANES
from planner.report.edge_data import Kind
from planner.report.edge_words import verdict
from planner.report.plots import edge_figure, write_edge_picture
from tests.report.pictures import STUDIES, drawn

every_study = pytest.mark.parametrize("name", STUDIES)


def texts(figure: Figure) -> list[Text]:
    """Every text that is seen."""
    axes = figure.axes[0]
    low, high = sorted(axes.get_xlim())
    ticks = [t for t in axes.get_xticklabels() if low <= t.get_position()[0] <= high]
    legend = axes.get_legend()
    assert legend is not None
    found = [*figure.texts, *axes.texts, *ticks, *axes.get_yticklabels(), *legend.get_texts()]
    return [t for t in [*found, axes.xaxis.label, axes.yaxis.label] if t.get_text()]


def boxes(figure: Figure) -> list[tuple[str, Bbox]]:
    """Where every text stands, in pixels."""
    FigureCanvasAgg(figure).draw()
    return [(text.get_text(), text.get_window_extent()) for text in texts(figure)]


@every_study
def test_every_kind_and_value_that_was_run_has_its_mark(name: str) -> None:
    """As many points in each kind's lane as there are values with such runs."""
    picture = drawn(name)
    axes = edge_figure(picture).axes[0]
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
    shown = {text.get_text() for text in edge_figure(drawn(name)).axes[0].get_yticklabels()}
    assert {f"{held} passed", f"{len(runs) - held} failed"} <= shown


@every_study
def test_no_text_overlaps_another_or_the_border(name: str) -> None:
    """Everything written can be read: it lies inside the figure and clear of all other texts."""
    figure = edge_figure(drawn(name))
    placed = boxes(figure)
    width, height = figure.bbox.size
    outside = [t for t, b in placed if min(b.x0, b.y0) < 0 or b.x1 > width or b.y1 > height]
    assert outside == []
    pairs = combinations(placed, 2)
    assert [(one, other) for (one, a), (other, b) in pairs if a.overlaps(b)] == []


@every_study
def test_title_and_conditions_stand_above_the_axes(name: str) -> None:
    """Words about the picture never run into what is drawn."""
    figure = edge_figure(drawn(name))
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


@pytest.mark.parametrize("name", ["an evening", "crowded", "before the first run"])
def test_png_is_written(tmp_path: Path, name: str) -> None:
    """The file begins as every PNG does (PNG specification, 5.2) and is wide enough for a page."""
    file = tmp_path / "pictures" / "edge.png"
    write_edge_picture(drawn(name), file)
    head = file.read_bytes()[:24]
    assert head[:8] == b"\x89PNG\r\n\x1a\n"
    assert int.from_bytes(head[16:20]) == 1200


@pytest.mark.parametrize("name", ["an evening", "crowded", "before the first run"])
def test_svg_is_written(tmp_path: Path, name: str) -> None:
    """Well-formed, under 1 MB however many runs, and titled with the verdict."""
    file = tmp_path / "edge.svg"
    write_edge_picture(drawn(name), file)
    root = ElementTree.parse(file).getroot()
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    assert file.stat().st_size < 1_000_000
    titles = [node.text for node in root.iter("{http://www.w3.org/2000/svg}title")]
    assert titles == [verdict(drawn(name))]


@pytest.mark.parametrize("ending", ["png", "svg"])
def test_the_same_picture_gives_the_same_bytes(tmp_path: Path, ending: str) -> None:
    """No date, no random names: a picture under version control changes when its data does."""
    files = [tmp_path / f"{n}.{ending}" for n in (1, 2)]
    for file in files:
        write_edge_picture(drawn("an evening"), file)
    assert files[0].read_bytes() == files[1].read_bytes()


def test_another_ending_is_refused(tmp_path: Path) -> None:
    """The message says which endings there are."""
    with pytest.raises(InputError, match=r"edge\.jpg: expected .*\.png or \.svg"):
        write_edge_picture(drawn("an evening"), tmp_path / "edge.jpg")


def test_a_file_that_cannot_be_written_is_refused(tmp_path: Path) -> None:
    """A folder stands in its place."""
    (tmp_path / "edge.png").mkdir()
    with pytest.raises(InputError, match="cannot be written"):
        write_edge_picture(drawn("an evening"), tmp_path / "edge.png")
