"""Laws of the grid of edges: what it holds is what its shapes say, at any value of the knob."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.models.edge_grid import CELLS, MARGIN, EdgeGrid
from planner.models.hazard import Shapes

WIDTHS, SPREADS = (0.05, 0.4, 3.0), (0.1, 0.4)
GRID = EdgeGrid(steps=20, tolerance=1.0, target=0.9, shapes=Shapes(WIDTHS, SPREADS))
centres = st.integers(0, len(GRID.edges) - 1).map(lambda i: float(GRID.edges[i]))
anywhere = st.floats(-8.0, 28.0)
shares = st.sampled_from([0.03, 0.3, 1.0, 2.0])


@pytest.mark.parametrize(("steps", "near"), [(4, 1.0), (20, 1.0), (300, 7.5), (1, 1.0), (33, 2.5)])
def test_the_grid_spans_the_range_and_a_margin(steps: int, near: float) -> None:
    """Eight cells a tolerance, eight tolerances past either end, even and without a gap."""
    grid = EdgeGrid(steps, near, 0.9, GRID.shapes)
    assert np.diff(grid.edges) == pytest.approx(near / CELLS)
    assert grid.edges[0] == pytest.approx(-MARGIN * near + grid.cell / 2)
    assert grid.edges[-1] >= steps + MARGIN * near - grid.cell


@given(centres)
def test_at_the_edge_a_run_holds_with_the_target(centre: float) -> None:
    """By definition of the edge, for each shape, wherever it lies."""
    chances = GRID.survival(centre, 1.0)[:, GRID.edges == centre]
    assert chances == pytest.approx(0.9, abs=1e-6)


@given(centres, shares)
def test_a_row_is_what_the_shapes_say(hardness: float, share: float) -> None:
    """The table of distances gives what each distance gives by itself."""
    shapes = GRID.shapes
    beyond = hardness - GRID.edges[None, :] + shapes.edge_beyond(0.9)[:, None]
    for table, direct in (
        (GRID.survival(hardness, share), shapes.survival(beyond, share)),
        (GRID.counted(hardness, share, 3), shapes.counted(beyond, share, 3)),
    ):
        assert np.abs(table - direct).max() < 1e-9


@given(st.integers(0, len(GRID.edges) - 2), st.floats(0.0, 1.0), shares)
def test_off_grid_rows_lie_between_their_neighbours(at: int, part: float, share: float) -> None:
    """A value between two centres takes its part of either row."""
    near, far = (GRID.survival(float(GRID.edges[i]), share) for i in (at, at + 1))
    between = GRID.survival(float(GRID.edges[at]) + part * GRID.cell, share)
    assert np.abs(between - (1 - part) * near - part * far).max() < 1e-9


@given(st.lists(anywhere, min_size=2, max_size=6), shares)
def test_harder_values_never_hold_better(places: list[float], share: float) -> None:
    """On the grid, between its centres and past its ends."""
    chances = np.array([GRID.survival(place, share) for place in sorted(places)])
    assert ((chances >= 0) & (chances <= 1)).all()
    assert (np.diff(chances, axis=0) <= 1e-12).all()


@given(anywhere, shares)
def test_a_harder_edge_never_holds_worse(hardness: float, share: float) -> None:
    """At one value, the chance to hold rises with the edge."""
    assert (np.diff(GRID.survival(hardness, share), axis=1) >= -1e-12).all()


@given(st.floats(-1e6, 1e6), st.sampled_from([0.0, 0.03, 1.0, 400.0]))
def test_values_far_off_stay_probabilities(hardness: float, share: float) -> None:
    """A run at a slipped setting, of any length, is still told apart from none."""
    for chances in (GRID.survival(hardness, share), GRID.counted(hardness, share, 12)):
        assert chances.shape == (len(WIDTHS) * len(SPREADS), len(GRID.edges))
        assert ((chances >= 0) & (chances <= 1)).all()
