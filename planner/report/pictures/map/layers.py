"""What the map draws into its frame: cells with their runs, the proposal, the setting to keep."""

from typing import Any

from matplotlib.axes import Axes
from matplotlib.collections import PolyCollection
from matplotlib.patches import Rectangle

from planner.report.pictures.endings import Ending
from planner.report.pictures.inks import FAILED_TILE, INK, PASSED_TILE, SOFT, UNTOLD_TILE
from planner.report.pictures.map.cards import (
    Cards,
    Place,
    Stack,
    cards_of,
    stacks,
)
from planner.report.pictures.map.cells import Cell, Tally, passed, words
from planner.report.pictures.map.data import KnobMap, Spot
from planner.report.pictures.map.words import aside
from planner.report.pictures.shapes import RUNS

_INSET = 0.05
"""Share of a card that its tile leaves free at each side."""
_USUAL = RUNS[Ending.PASSED].points
"""The table of shapes has its sizes beside this one."""


def tiles(axes: Axes, picture: KnobMap) -> None:
    """Light tiles behind the full marks: the more failed, the darker."""
    cards = cards_of(picture)
    cells = [cell for cell in picture.cells if cell.here]
    corners = [cards.inset(cell.column, cell.row, _INSET) for cell in cells]
    shades = [_shade(cell.here) for cell in cells]
    drawn = PolyCollection(corners, facecolors=shades, ec=SOFT, lw=0.4, zorder=1)
    axes.add_collection(drawn, autolim=False)


def _shade(tally: Tally) -> tuple[float, float, float]:
    held, failed = passed(tally), sum(count for ending, count in tally if ending.failed)
    if not held + failed:
        return UNTOLD_TILE
    share = failed / (held + failed)
    red, green, blue = (
        (1 - share) * light + share * dark
        for light, dark in zip(PASSED_TILE, FAILED_TILE, strict=True)
    )
    return red, green, blue


def runs(axes: Axes, picture: KnobMap) -> None:
    """The shape of every ending in a cell, and under them the passes of its runs."""
    cards = cards_of(picture)
    found: dict[tuple[Ending, bool], list[Place]] = {}
    plates = []
    for cell in picture.cells:
        for stack in stacks(cell):
            for ending, place in cards.marks(cell, stack):
                found.setdefault((ending, stack.aside), []).append(place)
            if picture.risky(cell.column, cell.row):
                plates.append(cards.plate(cell, stack))
            _count(axes, cards, cell, stack)
    # Outlined letters would stand out from hatching too, but make an SVG three times as large.
    white = PolyCollection(plates, fc="white", ec="none", alpha=0.8, zorder=4)
    axes.add_collection(white, autolim=False)
    for ending in Ending:
        for is_aside in (False, True):
            if places := found.get((ending, is_aside)):
                _marks(axes, places, ending, is_aside, cards.mark_size(is_aside))
    if picture.aside:
        marker, label = RUNS[Ending.PASSED].marker, aside(picture)
        axes.plot([], [], ls="", marker=marker, ms=4, mfc="white", mec=SOFT, label=label)


def _marks(axes: Axes, places: list[Place], ending: Ending, is_aside: bool, size: float) -> None:
    shape = RUNS[ending]
    axes.plot(
        [x for x, _ in places],
        [y for _, y in places],
        ls="",
        marker=shape.marker,
        ms=shape.points / _USUAL * size,
        mfc="white" if is_aside else shape.fill,
        mec=SOFT if is_aside else shape.outline,
        mew=0.6 if is_aside else min(1.1, 0.15 * size),
        label="" if is_aside else ending.value,
        zorder=5,
    )


def _count(axes: Axes, cards: Cards, cell: Cell, stack: Stack) -> None:
    axes.text(
        *cards.place(cell.column, cell.row, *stack.count),
        words(stack.tally),
        ha="center",
        va="center",
        size=cards.count_size(stack.aside),
        color=SOFT if stack.aside else INK,
        zorder=6,
    )


def spots(axes: Axes, picture: KnobMap) -> None:
    """The setting to keep in a heavy frame, pending proposals in open broken ones."""
    cards = cards_of(picture)
    if picture.keep is not None:
        _frame(axes, cards, picture.keep, -0.02, lw=2.4, ls="-")
    for spot in picture.pending:
        _frame(axes, cards, spot, 0.09, lw=1.4, ls=(0, (3, 1.5)))


def _frame(axes: Axes, cards: Cards, spot: Spot, inset: float, **looks: Any) -> None:
    start, _, end, _ = cards.inset(spot.column, spot.row, inset)
    size = end[0] - start[0], end[1] - start[1]
    looks |= {"fc": "none", "ec": INK, "zorder": 7, "clip_on": False, "label": spot.words}
    axes.add_patch(Rectangle(start, *size, **looks))
