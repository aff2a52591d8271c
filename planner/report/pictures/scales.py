"""Ticks of a knob's axis: on its values, round where they can be."""

from math import ceil, floor, log10

from planner.domain.knob import Knob


def grid_ticks(knob: Knob, low: float, high: float, most: int) -> tuple[float, ...]:
    """At most so many of the knob's values from `low` to `high`, evenly apart, upwards.

    Where the range ends before, its steps go on.
    """
    grid = knob.grid
    assert grid is not None, knob.name
    first = ceil(round((low - grid.low) / grid.step, 6))
    last = floor(round((high - grid.low) / grid.step, 6))
    every = _every(last - first + 1, most, grid.step)
    start = _round_start(grid.low, grid.step, every)
    return tuple(
        grid.value(index) for index in range(first, last + 1) if (index - start) % every == 0
    )


def _every(count: int, most: int, step: float) -> int:
    """Every how many values stand at most so many: the first round distance, as 100 MHz."""
    least = max(1, ceil(count / most))
    return next((n for n in range(least, 5 * least + 1) if _is_round(n * step)), least)


def _is_round(distance: float) -> bool:
    scale = 10.0 ** floor(log10(distance))
    return any(abs(distance / scale - lead) < 1e-6 for lead in (1, 2, 2.5, 5, 10))


def _round_start(low: float, step: float, every: int) -> int:
    """The index from which counting on gives round values; 0 where none does."""
    apart = every * step
    rests = (abs((low + i * step) / apart - round((low + i * step) / apart)) for i in range(every))
    return next((i for i, rest in enumerate(rests) if rest < 1e-6), 0)
