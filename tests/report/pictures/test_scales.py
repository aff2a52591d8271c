"""Ticks of a knob's axis."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.domain.grid import Grid
from planner.domain.knob import Knob
from planner.report.pictures.scales import grid_ticks


def knob(low: float, high: float, step: float) -> Knob:
    """A knob over that range."""
    return Knob("clock", low, Grid(low, high, step))


@pytest.mark.parametrize(
    ("low", "high", "step", "most", "ticks"),
    [
        (4600, 5600, 25, 11, tuple(range(4600, 5601, 100))),
        (4625, 5600, 25, 6, (4800, 5000, 5200, 5400, 5600)),
        (30, 60, 1, 7, (30, 35, 40, 45, 50, 55, 60)),
        (1.0, 1.05, 0.01, 9, (1.0, 1.01, 1.02, 1.03, 1.04, 1.05)),
        (3, 3.2, 0.2, 9, (3, 3.2)),
    ],
)
def test_ticks_are_round_values(
    low: float, high: float, step: float, most: int, ticks: tuple[float, ...]
) -> None:
    """By hand."""
    assert grid_ticks(knob(low, high, step), low, high, most) == ticks


@given(
    st.integers(-500, 500),
    st.integers(1, 400),
    st.sampled_from([0.005, 0.1, 1, 3, 7, 25, 133]),
    st.integers(2, 12),
)
def test_ticks_are_values_of_the_knob_and_never_too_many(
    start: int, steps: int, step: float, most: int
) -> None:
    """On the grid, evenly apart, in order."""
    low = round(start * step, 3)
    made = knob(low, round(low + steps * step, 3), step)
    assert made.grid is not None
    ticks = grid_ticks(made, low, made.grid.high, most)
    places = [made.grid.index(tick) for tick in ticks]
    assert None not in places
    assert len(ticks) <= most
    assert len({b - a for a, b in pairwise(places)}) <= 1  # type: ignore[operator]
