"""What is seen of a figure: its texts, and where they stand."""

from functools import lru_cache
from itertools import combinations

from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.text import Text
from matplotlib.transforms import Bbox


def texts(figure: Figure) -> list[Text]:
    """Every text that is seen."""
    found = [*figure.texts]
    for axes in figure.axes:
        found += [*axes.texts, *_ticks(axes), axes.xaxis.label, axes.yaxis.label]
        legend = axes.get_legend()
        found += [] if legend is None else legend.get_texts()
    return [text for text in found if text.get_text() and text.get_visible()]


def _ticks(axes: Axes) -> list[Text]:
    across, up = sorted(axes.get_xlim()), sorted(axes.get_ylim())
    found = [t for t in axes.get_xticklabels() if across[0] <= t.get_position()[0] <= across[1]]
    return found + [t for t in axes.get_yticklabels() if up[0] <= t.get_position()[1] <= up[1]]


@lru_cache(maxsize=8)
def boxes(figure: Figure) -> list[tuple[str, Bbox]]:
    """Where every text stands, in pixels; drawn once, so a figure is looked at when it is done."""
    FigureCanvasAgg(figure).draw()
    return [(text.get_text(), text.get_window_extent()) for text in texts(figure)]


def outside(figure: Figure) -> list[str]:
    """Texts that the figure's border cuts."""
    width, height = figure.bbox.size
    placed = boxes(figure)
    return [t for t, b in placed if min(b.x0, b.y0) < 0 or b.x1 > width or b.y1 > height]


def overlapping(figure: Figure) -> list[tuple[str, str]]:
    """Pairs of texts that cover each other."""
    pairs = combinations(boxes(figure), 2)
    return [(one, other) for (one, a), (other, b) in pairs if a.overlaps(b)]
