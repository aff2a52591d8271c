"""One knob as an axis of the map: its values in a row, several to a cell where they are many."""

from dataclasses import dataclass, replace
from math import floor

from planner.domain.knob import Harder, Knob, Value


@dataclass(frozen=True, slots=True)
class Axis:
    """A part of a knob's values; places count values from the lowest, or choices as listed."""

    knob: Knob
    start: int
    last: int
    """Place of the first and the last value shown; a person's own runs may lie out of range."""
    border: int = 0
    """A cell begins at this place: cells do not reach across the everyday ceiling."""
    every: int = 1
    """So many values share a cell."""

    @property
    def first(self) -> int:
        """Place of the first cell's first value, at or under the first value shown."""
        return self.start - (self.start - self.border) % self.every

    @property
    def cells(self) -> int:
        """How many cells stand beside each other."""
        return -(-(self.last - self.first + 1) // self.every)

    @property
    def ends(self) -> tuple[float, float]:
        """Where the first cell begins and the last one ends, as places."""
        return self.first - 0.5, self.first + self.cells * self.every - 0.5

    @property
    def falls(self) -> bool:
        """Whether harder values are lower ones."""
        return self.knob.harder is Harder.DOWN

    def cell(self, index: int) -> int:
        """The cell of a value's index."""
        return (index - self.first) // self.every

    def value(self, index: int) -> Value:
        """The value at a place, on the knob's range or, in its steps, beyond."""
        if self.knob.grid is None:
            return self.knob.choices[index]
        return self.knob.grid.value(index)

    def middle(self, cell: int) -> float:
        """The place in the middle of a cell."""
        return self.first - 0.5 + self.every * (cell + 0.5)

    def indexes(self, cell: int) -> range:
        """The places of a cell's values, at least one."""
        start = self.first + cell * self.every
        return range(start, max(min(start + self.every, self.last + 1), start + 1))

    def shared(self, every: int) -> "Axis":
        """The same with so many values to a cell."""
        return replace(self, every=every)


def place_of(knob: Knob, value: Value) -> float | None:
    """Where a value stands; None for a word where numbers are, or a choice that is gone."""
    if knob.grid is None:
        return float(knob.choices.index(value)) if value in knob.choices else None
    if isinstance(value, str):
        return None
    return round((value - knob.grid.low) / knob.grid.step, 6)


def index_of(place: float) -> int:
    """The nearest value's index; half way the upper one's."""
    return floor(place + 0.5)


def size_of(knob: Knob) -> int:
    """How many values there are."""
    return len(knob.choices) if knob.grid is None else knob.grid.size
