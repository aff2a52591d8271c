"""Grids are exact: every value is the decimal that a person would write down."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.domain.grid import MAX_VALUES, Grid

STEPS = [Decimal(s) for s in ("0.1", "0.005", "0.25", "25", "0.0625", "0.001", "12.5", "3")]
written = st.builds(
    lambda step, low, count: (step * low, step, count),
    st.sampled_from(STEPS),
    st.integers(-20_000, 20_000),
    st.integers(1, 400),
)


def grid_of(low: Decimal, step: Decimal, count: int) -> Grid:
    """`count` values from `low` on."""
    return Grid(float(low), float(low + (count - 1) * step), float(step))


@given(written)
def test_every_value_is_the_written_decimal(given_as: tuple[Decimal, Decimal, int]) -> None:
    """value(i) is the double nearest to low + i * step, summed in decimals."""
    low, step, count = given_as
    grid = grid_of(*given_as)
    assert grid.size == count
    assert grid.values() == tuple(float(low + i * step) for i in range(count))


@given(written, st.data())
def test_index_undoes_value(given_as: tuple[Decimal, Decimal, int], data: st.DataObject) -> None:
    """Index and value are inverse to each other on the grid."""
    grid = grid_of(*given_as)
    index = data.draw(st.integers(0, grid.size - 1))
    assert grid.index(grid.value(index)) == index


@given(written, st.integers(-3, 403), st.floats(0.001, 0.999))
def test_between_and_beyond_have_no_index(
    given_as: tuple[Decimal, Decimal, int], place: int, share: float
) -> None:
    """A thousandth of a step beside a value is off the grid, and so is the next step outside."""
    low, step, count = given_as
    grid = grid_of(*given_as)
    assert grid.index(float(low) + (place + share) * float(step)) is None
    assert grid.index(float(low - step)) is None
    assert grid.index(float(low + count * step)) is None


@pytest.mark.parametrize(
    ("low", "high", "step", "listed"),
    [
        (99.7, 100.3, 0.1, (99.7, 99.8, 99.9, 100.0, 100.1, 100.2, 100.3)),
        (1.335, 1.355, 0.005, (1.335, 1.34, 1.345, 1.35, 1.355)),
        (-0.02, 0.01, 0.005, (-0.02, -0.015, -0.01, -0.005, 0.0, 0.005, 0.01)),
        (-0.3, 0.3, 0.1, (-0.3, -0.2, -0.1, 0.0, 0.1, 0.2, 0.3)),
        (-50, -25, 12.5, (-50.0, -37.5, -25.0)),
        (5, 5, 1, (5.0,)),
    ],
)
def test_grids_as_written_by_hand(
    low: float, high: float, step: float, listed: tuple[float, ...]
) -> None:
    """Base clocks by 0.1 MHz, voltages by 5 mV, negative offsets, one value: the literals."""
    assert Grid(low, high, step).values() == listed


@pytest.mark.parametrize(
    ("low", "high", "step", "named"),
    [
        (0, 10, 0, "step = 0"),
        (0, 10, -1, "step = -1"),
        (10, 0, 1, "high = 0"),
        (0, 10, 3, "step = 3"),
        (1.0, 1.4, 0.03, "step = 0.03"),
        (4000, 5050, 100, "step = 100"),
        (0, MAX_VALUES, 1, f"at most {MAX_VALUES}"),
        (0, 1e15, 1e-9, f"at most {MAX_VALUES}"),
    ],
)
def test_what_is_no_grid_is_refused(low: float, high: float, step: float, named: str) -> None:
    """Steps that are not positive, don't divide or are far too many; bounds out of order."""
    with pytest.raises(ValueError, match=named):
        Grid(low, high, step)


def test_the_largest_grid_is_taken() -> None:
    """As many values as are allowed, and not one more."""
    assert Grid(0, MAX_VALUES - 1, 1).size == MAX_VALUES


@pytest.mark.parametrize("value", [1e308, -1e308, float("inf"), float("nan")])
def test_a_value_absurdly_far_off_has_no_index(value: float) -> None:
    """Its distance in steps may overflow though it is finite itself."""
    assert Grid(0.0, 1.0, 0.01).index(value) is None
