"""Where things stand on the cards of the map: sizes in points, places on the axes."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.report.pictures.endings import Ending
from planner.report.pictures.map.axis import Axis
from planner.report.pictures.map.cells import LETTER, LOW, SMALLEST, Cell, Tally, words
from planner.report.pictures.map.data import ROOM, KnobMap

_SMALL, _SMALL_COUNT = 0.62, 0.9
"""By how much marks shrink that stand beside other values of the other knobs, and their counts."""
_CORNER = 0.5
"""Share of a card's width that their marks take where they stand above others."""
_LARGEST_CARD = (84.0, 56.0)
"""Points across and up: where cells are larger the card stands in their middle."""
_TALLEST = 1.4
"""Height of the tallest card, in its width."""
_LARGEST_MARK, _LARGEST_COUNT = 11.0, 9.0
"""Points."""
_FULL = 0.86
"""Share of a card's width that its marks may take."""
_APART = 1.35
"""From one mark to the next, in their sizes."""

Place = tuple[float, float]
"""How far right and up."""


@dataclass(frozen=True, slots=True)
class Stack:
    """Runs that share marks and a count on a card, and where on the card these stand."""

    tally: Tally
    aside: bool
    marks: Place
    count: Place


@dataclass(frozen=True, slots=True)
class Cards:
    """The sizes that all cards of a map share, in points."""

    x: Axis
    y: Axis
    width: float
    height: float
    mark: float
    small_mark: float
    """Of runs that stand aside."""
    count: float

    def mark_size(self, aside: bool) -> float:
        """Points across a mark."""
        return self.small_mark if aside else self.mark

    def count_size(self, aside: bool) -> float:
        """Points of a count's letters."""
        return self.count * (_SMALL_COUNT if aside else 1)

    def place(self, column: int, row: int, right: float, up: float) -> Place:
        """The place on the axes that is so far right and up on a card."""
        right = 1 - right if self.x.falls else right
        across = 0.5 + (right - 0.5) * self.width * self.x.cells / ROOM[0]
        above = 0.5 + (up - 0.5) * self.height * self.y.cells / ROOM[1]
        return _into(self.x, column, across), _into(self.y, row, above)

    def corners(self, column: int, row: int, lower: Place, upper: Place) -> tuple[Place, ...]:
        """The corners of a box on a card, from its lower left to its upper right end."""
        (left, low), (right, high) = (self.place(column, row, *end) for end in (lower, upper))
        return (left, low), (right, low), (right, high), (left, high)

    def inset(self, column: int, row: int, share: float) -> tuple[Place, ...]:
        """The corners of the card, so much of it left free at each side."""
        return self.corners(column, row, (share, share), (1 - share, 1 - share))

    def plate(self, cell: Cell, stack: Stack) -> tuple[Place, ...]:
        """The corners of the box that a count takes."""
        size = self.count_size(stack.aside)
        half = 0.5 * LETTER * size * len(words(stack.tally)) / self.width
        tall = 0.5 * size / self.height
        right, up = stack.count
        ends = (right - half, up - tall), (right + half, up + tall)
        return self.corners(cell.column, cell.row, *ends)

    def marks(self, cell: Cell, stack: Stack) -> Iterator[tuple[Ending, Place]]:
        """Where the marks of a card stand, side by side."""
        apart = self.mark_size(stack.aside) * _APART / self.width
        for number, (ending, _) in enumerate(stack.tally):
            shift = (number - (len(stack.tally) - 1) / 2) * apart
            right, up = stack.marks
            yield ending, self.place(cell.column, cell.row, right + shift, up)


def cards_of(picture: KnobMap) -> Cards:
    """As large as there is room for, so that no mark or count covers another."""
    width = min(ROOM[0] / picture.x.cells, _LARGEST_CARD[0])
    height = min(ROOM[1] / picture.y.cells, _LARGEST_CARD[1], max(_TALLEST * width, LOW))
    tallies = [t for cell in picture.cells for t in (cell.here, cell.aside) if t]
    both = any(cell.here and cell.aside for cell in picture.cells)
    most = max(map(len, tallies), default=1)
    mark = min(_LARGEST_MARK, height * (0.3 if both else 0.38), _FULL * width / most / _APART)
    longest = max((len(words(tally)) for tally in tallies), default=1)
    count = min(_LARGEST_COUNT, max(0.9 * mark, SMALLEST), (width - 1) / (LETTER * longest))
    corner = max((len(c.aside) for c in picture.cells if c.here), default=0) or 1
    small = min(_SMALL * mark, _CORNER * width / corner / _APART)
    return Cards(picture.x, picture.y, width, height, mark, small, count)


def stacks(cell: Cell) -> Iterator[Stack]:
    """What stands on a card: runs at the study's values in full, all others above or instead."""
    if cell.here and cell.aside:
        yield Stack(cell.here, False, (0.5, 0.5), (0.5, 0.19))
        yield Stack(cell.aside, True, (0.03 + _CORNER / 2, 0.84), (0.76, 0.83))
    elif cell.here:
        yield Stack(cell.here, False, (0.5, 0.68), (0.5, 0.26))
    else:
        yield Stack(cell.aside, True, (0.5, 0.68), (0.5, 0.3))


def _into(axis: Axis, cell: int, share: float) -> float:
    """The place so far into a cell."""
    return axis.first - 0.5 + axis.every * (cell + share)
