"""At which values of the second knob the frontier is known: its stations.

They run from the hardest value of the second knob to the easiest, so that the edge rises from one
to the next until heat or too much voltage bends it back: up a voltage, down a clock.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise
from math import inf

from planner.domain.knob import Knob, Value
from planner.gate import Gate, effective_ceiling
from planner.history import History

ASKED = 9
"""At most so many stations between the range's easiest and hardest everyday value."""


@dataclass(frozen=True)
class Stations:
    """The second knob's values in order, the hardest first, and which of them are asked about."""

    along: Knob
    values: tuple[float, ...]
    asked: frozenset[float]
    """Those at which runs may be proposed; the others were run by the person, or are forbidden."""
    spacing: float
    """Steps of the second knob from one asked value to the next, as planned."""

    @property
    def gaps(self) -> tuple[float, ...]:
        """Distance from each station to the next, in spacings."""
        places = [self.along.hardness(value) for value in self.values]
        return tuple((before - after) / self.spacing for before, after in pairwise(places))

    def index(self, value: Value) -> int | None:
        """The place of a value among the stations; None where it is none."""
        return self.values.index(value) if value in self.values else None


def stations_of(history: History, gate: Gate, along: Knob, base: Mapping[str, Value]) -> Stations:
    """Evenly spaced everyday values, the same spacing on above them, and every value that was run.

    Above the everyday ceiling the frontier is drawn as far as own risk may reach; runs are asked
    for there only once the person accepted it.
    """
    grid = along.grid
    assert grid is not None, along.name
    permitted = [float(v) for v in gate.permitted_values(along, base) if not isinstance(v, str)]
    everyday = _everyday(gate, along, permitted)
    every = max(1, -(-(len(everyday) - 1) // (ASKED - 1)))
    reach = effective_ceiling(gate.definition.guarded[along.name], inf)
    drawn_to = [v for v in grid.values() if reach is None or v <= reach + 1e-9]
    planned = _spaced(drawn_to, everyday, every)
    ran = {run.ran[along.name] for run in history.evidence}
    numbers = {float(v) for v in ran if not isinstance(v, str)}  # a word: the knob was a choice
    drawn = {*planned, *(v for v in numbers if grid.low <= v <= grid.high)}
    return Stations(
        along=along,
        values=tuple(sorted(drawn, key=along.hardness, reverse=True)),
        asked=frozenset(v for v in planned if v in permitted),
        spacing=float(every),
    )


def _everyday(gate: Gate, along: Knob, permitted: list[float]) -> list[float]:
    """The permitted values at or under the everyday ceiling, upwards; all where that is none."""
    top = gate.definition.guarded[along.name].everyday
    under = sorted(v for v in permitted if top is None or v <= top + 1e-9)
    return under or sorted(permitted)


def _spaced(values: Iterable[float], everyday: list[float], every: int) -> set[float]:
    """Every so many values down from the highest everyday one, the lowest one, and on above it."""
    if not everyday:
        return set()
    upwards = [v for v in values if v >= everyday[0]]
    top = len(everyday) - 1
    picked = {upwards[i] for i in range(top, -1, -every)} | {upwards[0]}
    return picked | {upwards[i] for i in range(top + every, len(upwards), every)}
