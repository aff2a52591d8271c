"""The ceilings as they bound one knob, its own and those of values derived from it."""

from bisect import bisect_right
from dataclasses import dataclass
from enum import Enum
from typing import Any

from planner.domain.ceilings import Ceilings
from planner.domain.definition import Definition
from planner.domain.knob import Knob, Setting

_NEAR = 0.25
"""A ceiling this share of the shown width beyond its end is still brought into the picture."""
_ROOM = 0.05
"""Share of the shown width that is kept free beyond a ceiling that was brought in."""


class Limit(Enum):
    """Which ceiling it is."""

    EVERYDAY = "everyday ceiling"
    OWN_RISK = "own-risk ceiling"
    HARD_STOP = "hard stop"


@dataclass(frozen=True, slots=True)
class Bound:
    """A ceiling, told as a value of the knob."""

    limit: Limit
    value: float
    """In the knob's unit; on or between its values."""
    of: str
    """Name of the derived value that the ceiling belongs to; empty: the knob's own."""


def bounds_of(definition: Definition, knob: Knob, base: Setting) -> tuple[Bound, ...]:
    """The lowest ceiling of each kind over the knob and what is derived from it.

    `base`: values of the other knobs. Accepting a risk moves none of them: the region above the
    everyday ceiling stays the person's own risk.
    """
    lowest: dict[Limit, Bound] = {}
    for name, ceilings in definition.guarded.items():
        for limit, ceiling in told(ceilings):
            value = _as_value(definition, knob, base, name, ceiling)
            if value is not None and (limit not in lowest or value < lowest[limit].value):
                lowest[limit] = Bound(limit, value, "" if name == knob.name else name)
    return tuple(lowest[limit] for limit in Limit if limit in lowest)


def with_near_bounds(
    knob: Knob, bounds: tuple[Bound, ...], shown: tuple[float, float]
) -> tuple[float, float]:
    """What is shown, in steps, widened so that ceilings near its ends stand in it."""
    low, high = shown
    reach, room = _NEAR * (high - low), _ROOM * (high - low)
    near = [
        place for b in bounds if low - reach <= (place := knob.hardness(b.value)) <= high + reach
    ]
    return min([low, *(place - room for place in near)]), max([high, *(p + room for p in near)])


def line_look(limit: Limit) -> dict[str, Any]:
    """How a ceiling's line is drawn: broken, the hard stop heavy and solid."""
    hard = limit is Limit.HARD_STOP
    return {"lw": 1.8 if hard else 1.0, "ls": "-" if hard else (0, (2, 2))}


def told(ceilings: Ceilings) -> list[tuple[Limit, float]]:
    """The ceilings that are given, from the lowest on."""
    given = [
        (Limit.EVERYDAY, ceilings.everyday),
        (Limit.OWN_RISK, ceilings.own_risk),
        (Limit.HARD_STOP, ceilings.hard_stop),
    ]
    return [(limit, value) for limit, value in given if value is not None]


def _as_value(
    definition: Definition, knob: Knob, base: Setting, name: str, ceiling: float
) -> float | None:
    """The highest value of the knob under a ceiling; None where the ceiling bounds all or none."""
    if name == knob.name:
        return ceiling
    assert knob.grid is not None, knob.name
    values = knob.grid.values()

    def derived(value: float) -> float:
        return definition.numbers({**base, knob.name: value}).get(name, 0.0)

    if not derived(values[0]) <= ceiling < derived(values[-1]):
        return None
    return values[bisect_right(values, ceiling, key=derived) - 1]
