"""What every figure is made with: its look, its head, its legend, labels of lines.

Figures are built without pyplot: no window, no global state, no backend to choose.
"""

import re
import textwrap
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from itertools import pairwise
from typing import Any

from matplotlib import style
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from planner.report.pictures.inks import INK, SOFT

DOTS_PER_INCH = 150
ROW_POINTS = 12.0
"""Height of one row of labels above the axes."""

_LOOK: list[Any] = [
    "default",  # not the machine's own matplotlibrc
    {
        "font.family": ["DejaVu Sans"],  # comes with matplotlib, so labels are as wide everywhere
        "font.size": 9.0,
        "text.parse_math": False,  # a name may hold a dollar sign
        "text.hinting": "no_hinting",  # as SVG has it; fitting letters to pixels takes long
        "svg.hashsalt": "planner",
        "hatch.linewidth": 0.6,
    },
]
_SIDE_LINE, _OVERHANG = 10.2, 14.0
"""Points of a line of the labels at the right, and how far these may stand out up and down."""
_LEGEND_LINE, _SCALE = 0.168, 0.5
"""Inches of a line of the legend, and of the scale under the lowest panel."""
_LETTER, _HANDLE = 4.75, 38.0
"""Points of a letter of the legend, and of the mark and the gap that go with its words."""
_MARGIN = 0.24
"""Inches left of the title, and about as many above it."""
_TITLE_CHARACTERS, _UNDER_CHARACTERS = 9.5, 15.75
"""Characters that fit on an inch of the figure's width."""
_TITLE_LINE, _UNDER_LINE, _TITLE_GAP, _HEAD_GAP = 0.224, 0.156, 0.062, 0.104
"""Inches."""


@contextmanager
def look() -> Iterator[None]:
    """The look of all pictures, in force while a figure is made or written."""
    with style.context(_LOOK):
        yield


def new_figure(width: float, height: float) -> Figure:
    """An empty figure of a size in inches."""
    return Figure(figsize=(width, height), dpi=DOTS_PER_INCH)


def head(figure: Figure, title: str, under: str, most: int = 2) -> float:
    """Title, and under it at most so many lines on what it holds for; gives where they end.

    That is a height in inches above the figure's lower border.
    """
    width, height = (float(inches) for inches in figure.get_size_inches())
    at = height - 0.65 * _MARGIN
    lines = _lines(title, int(_TITLE_CHARACTERS * width), 3)
    _write(figure, at, lines, color=INK, size=12, weight="bold")
    at -= _TITLE_LINE * len(lines) + _TITLE_GAP
    lines = _lines(under, int(_UNDER_CHARACTERS * width), most)
    _write(figure, at, lines, color=SOFT, size=8)
    return at - _UNDER_LINE * len(lines) - _HEAD_GAP


def head_inches(width: float, title: str, under: str, most: int = 2) -> float:
    """How much of a figure of that width the head takes, in inches."""
    titles = len(_lines(title, int(_TITLE_CHARACTERS * width), 3))
    unders = len(_lines(under, int(_UNDER_CHARACTERS * width), most))
    return 0.65 * _MARGIN + _TITLE_LINE * titles + _TITLE_GAP + _UNDER_LINE * unders + _HEAD_GAP


def _write(figure: Figure, at: float, lines: list[str], **looks: Any) -> None:
    width, height = (float(inches) for inches in figure.get_size_inches())
    figure.text(_MARGIN / width, at / height, "\n".join(lines), va="top", **looks)


def _lines(text: str, width: int, most: int) -> list[str]:
    """The text in at most so many lines; a number stays on a line with what follows it."""
    tied = re.sub(r"(?<=\d) (?=\S)|(?<=\bto) (?=\d)", "\N{NO-BREAK SPACE}", text)
    return textwrap.wrap(tied, width, max_lines=most, placeholder=" ..")


def rows_outwards(places: Sequence[float]) -> list[int]:
    """In which order labels take their rows above the axes, the lowest row first.

    Labels read towards the middle of the picture, so outer ones stand higher: the lines that they
    belong to then pass beside the labels of inner ones. `places`: shares of the axes' width.
    """
    return sorted(range(len(places)), key=lambda at: abs(min(max(places[at], 0.0), 1.0) - 0.5))


def label_above(axes: Axes, place: float, row: int, words: str) -> None:
    """Write the label of an upright line in a row above the axes, beside the line.

    `place`: share of the axes' width; a line that stands outside has its label at that border.
    """
    anchor = min(max(place, 0.0), 1.0)
    axes.annotate(
        words,
        (anchor, 1 + row_height(axes) * (row + 0.2)),
        xycoords="axes fraction",
        xytext=(-4 if anchor > 0.5 else 4, 0),
        textcoords="offset points",
        ha="right" if anchor > 0.5 else "left",
        va="bottom",
        size=8,
        zorder=6,
        bbox={"fc": "white", "ec": "none", "pad": 0.8},  # interrupts the lines of outer labels
    )


def upright(axes: Axes, at: float, row: int | None = None, **looks: Any) -> None:
    """An upright line at a value, up to its label's row."""
    given: dict[str, Any] = {"color": INK, "zorder": 1} | looks
    end = 1 if row is None else 1 + row_height(axes) * (row + 0.8)
    across = axes.get_xaxis_transform()
    axes.plot([at] * 2, [0, end], transform=across, clip_on=False, **given)


def label_right(axes: Axes, labels: Sequence[tuple[float, str]]) -> None:
    """Write the labels of level lines right of the axes, moved apart where they would overlap.

    `labels`: height as a share of the axes, and words of one or more lines.
    """
    _, height = size_points(axes)
    line = _SIDE_LINE / height
    placed: list[tuple[float, float, str]] = []
    for place, words in sorted(labels, key=lambda label: label[0]):
        half = line * (words.count("\n") + 1.2) / 2
        floor = placed[-1][0] + placed[-1][1] if placed else -_OVERHANG / height
        placed.append((max(place, floor + half), half, words))
    ceiling = 1 + _OVERHANG / height
    for at in range(len(placed) - 1, -1, -1):
        place, half, words = placed[at]
        place = min(place, ceiling - half)
        ceiling = place - half
        axes.annotate(
            words,
            (1, place),
            xycoords="axes fraction",
            xytext=(5, 0),
            textcoords="offset points",
            va="center",
            size=8,
            linespacing=1.1,
        )


def row_height(axes: Axes) -> float:
    """Height of a row of labels, as a share of the axes' height."""
    return ROW_POINTS / size_points(axes)[1]


def size_points(axes: Axes) -> tuple[float, float]:
    """Width and height of the axes in points."""
    figure = axes.figure.get_figure(root=True)
    assert figure is not None, "axes are drawn in a figure"
    width, height = (72 * float(inches) for inches in figure.get_size_inches())
    place = axes.get_position()
    return width * place.width, height * place.height


def legend(axes: Axes, height: float, columns: int, **given: Any) -> None:
    """What the marks mean, its upper end at `height`, a share of the figure."""
    axes.legend(
        **given,
        loc="upper center",
        bbox_to_anchor=(0.5, height),
        bbox_transform=axes.figure.transFigure,
        ncols=columns,
        frameon=False,
        fontsize=8,
        columnspacing=1.6,
    )


def finish(figure: Figure, title: str, under: str, rows_above: int = 0) -> None:
    """Give a figure of panels its head, its legend, and the height that these take.

    The panels keep their size in inches. `rows_above`: rows of labels above the upper one.
    """
    width, height = (float(inches) for inches in figure.get_size_inches())
    places = [axes.get_position() for axes in figure.axes]
    low, high = (height * end for end in (min(p.y0 for p in places), max(p.y1 for p in places)))
    handles = [handle for axes in figure.axes for handle in axes.get_legend_handles_labels()[0]]
    columns = _columns([str(handle.get_label()) for handle in handles], 72 * width)
    legend_end = _LEGEND_LINE * -(-len(handles) // columns) + 0.5 * _MARGIN
    bottom = legend_end + _SCALE
    total = bottom + high - low + rows_above * ROW_POINTS / 72 + head_inches(width, title, under, 3)
    for axes, place in zip(figure.axes, places, strict=True):
        start = bottom + height * place.y0 - low
        axes.set_position((place.x0, start / total, place.width, height * place.height / total))
    figure.set_size_inches(width, total)
    head(figure, title, under, 3)
    if handles:
        legend(figure.axes[-1], legend_end / total, columns, handles=handles)


def _columns(labels: Sequence[str], room: float) -> int:
    """In how many columns a legend fits, `room` in points; it fills them one after another."""
    for columns in (4, 3, 2):
        rows, longer = divmod(len(labels), columns)
        ends = [at * rows + min(at, longer) for at in range(columns + 1)]
        parts = [labels[start:end] for start, end in pairwise(ends)]
        widest = sum(max(map(len, part), default=0) for part in parts)
        if len(labels) >= columns and _LETTER * widest + _HANDLE * columns <= room:
            return columns
    return 1
