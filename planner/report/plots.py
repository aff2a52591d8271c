"""Pictures as PNG or SVG, drawn from frozen summaries; the same summary gives the same bytes.

Figures are built without pyplot: no window, no global state, no backend to choose.
"""

import re
import textwrap
from pathlib import Path
from typing import Any

from matplotlib import style
from matplotlib.figure import Figure

from planner.errors import InputError
from planner.report import edge_layers
from planner.report.edge_axes import ROW_POINTS, dress, dress_bounds, rows
from planner.report.edge_data import EdgePicture
from planner.report.edge_words import conditions, verdict
from planner.report.inks import INK, SOFT

SIZE_INCHES = (8.0, 5.2)
DOTS_PER_INCH = 150
FORMATS = (".png", ".svg")

_LOOK: list[Any] = [
    "default",  # not the machine's own matplotlibrc
    {
        "font.family": ["DejaVu Sans"],  # comes with matplotlib, so labels are as wide everywhere
        "font.size": 9.0,
        "text.parse_math": False,  # a name may hold a dollar sign
        "svg.hashsalt": "planner",
        "hatch.linewidth": 0.6,
    },
]
_LEFT, _RIGHT, _BOTTOM, _LEGEND = 0.13, 0.9, 0.19, 0.095
_TITLE_WIDTH, _CONDITIONS_WIDTH = 76, 126
"""Characters that fit on a line."""


def edge_figure(picture: EdgePicture) -> Figure:
    """Pass probability against the knob, with the runs, the edge and the ceilings."""
    with style.context(_LOOK):
        figure = Figure(figsize=SIZE_INCHES, dpi=DOTS_PER_INCH)
        row = ROW_POINTS / (72 * SIZE_INCHES[1])
        top = _head(figure, picture) - row * len(rows(picture))
        axes = figure.add_axes((_LEFT, _BOTTOM, _RIGHT - _LEFT, top - _BOTTOM))
        dress(axes, picture)
        dress_bounds(axes, picture, row / (top - _BOTTOM))
        edge_layers.curve(axes, picture)
        edge_layers.runs(axes, picture)
        edge_layers.edge(axes, picture)
        edge_layers.best(axes, picture)
        edge_layers.legend(axes, _LEGEND)
    return figure


def save_figure(figure: Figure, file: Path, title: str) -> None:
    """Write the figure as the file's ending says; makes the folder if there is none.

    Raises:
        InputError: the ending is neither .png nor .svg, or the file cannot be written.
    """
    if file.suffix.lower() not in FORMATS:
        raise InputError(f"{file.name}: expected a file ending in {' or '.join(FORMATS)}")
    told: dict[str, Any] = {"Title": title}
    told |= {"Date": None, "Creator": None} if file.suffix.lower() == ".svg" else {"Software": None}
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        with style.context(_LOOK):
            figure.savefig(file, metadata=told)
    except OSError as error:
        raise InputError(f"{file}: cannot be written ({error.strerror})") from None


def write_edge_picture(picture: EdgePicture, file: Path) -> None:
    """Draw the picture into a .png or .svg file.

    Raises:
        InputError: another ending, or the file cannot be written.
    """
    save_figure(edge_figure(picture), file, verdict(picture))


def _head(figure: Figure, picture: EdgePicture) -> float:
    """The verdict and its conditions; gives the height at which they end, as a share."""
    title = _lines(verdict(picture), _TITLE_WIDTH, 3)
    figure.text(0.03, 0.97, "\n".join(title), color=INK, size=12, weight="bold", va="top")
    below = 0.97 - 0.043 * len(title) - 0.012
    under = _lines(conditions(picture), _CONDITIONS_WIDTH, 2)
    figure.text(0.03, below, "\n".join(under), color=SOFT, size=8, va="top")
    return below - 0.03 * len(under) - 0.02


def _lines(text: str, width: int, most: int) -> list[str]:
    """The text in at most so many lines; a number stays on a line with what follows it."""
    tied = re.sub(r"(?<=\d) (?=\S)|(?<=\bto) (?=\d)", "\N{NO-BREAK SPACE}", text)
    return textwrap.wrap(tied, width, max_lines=most, placeholder=" ..")
