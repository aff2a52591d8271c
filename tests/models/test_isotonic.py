"""Isotonic regression of failure rates."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.optimize import isotonic_regression

from planner.models.isotonic import isotonic_failure_rate, pool_adjacent_violators

Points = tuple[NDArray[np.float64], NDArray[np.float64]]

points = st.lists(
    st.tuples(st.floats(-1e3, 1e3), st.floats(0.01, 100)), min_size=1, max_size=30
).map(lambda pairs: tuple(np.array(pairs).T))


def test_small_example() -> None:
    """(1 3 2 4 3 5) pools to (1 2.5 2.5 3.5 3.5 5), worked by hand."""
    fit = pool_adjacent_violators([1, 3, 2, 4, 3, 5], [1] * 6)
    assert fit.tolist() == [1, 2.5, 2.5, 3.5, 3.5, 5]


def test_up_and_down_record() -> None:
    """Levels 35..39 of Gorla et al. 2017, IJAER 12(21), Table 9; pooled fit computed."""
    rate = isotonic_failure_rate([35, 36, 37, 38, 39], [2, 5, 4, 3, 1], [0, 3, 2, 2, 1])
    assert rate == pytest.approx([0, 5 / 9, 5 / 9, 2 / 3, 1], abs=1e-12)


def test_levels_may_come_in_any_order() -> None:
    """Rates are returned in the order in which the levels were given."""
    rate = isotonic_failure_rate([38, 35, 39, 37, 36], [3, 2, 1, 4, 5], [2, 0, 1, 2, 3])
    assert rate == pytest.approx([2 / 3, 0, 1, 5 / 9, 5 / 9], abs=1e-12)


@given(points)
def test_equals_scipy(given_points: Points) -> None:
    """Reference: scipy.optimize.isotonic_regression."""
    values, weights = given_points
    expected = isotonic_regression(values, weights=weights).x
    assert pool_adjacent_violators(values, weights) == pytest.approx(expected, abs=1e-9)


@given(points)
def test_equals_the_max_min_formula(given_points: Points) -> None:
    """fit_i = max over j <= i of min over k >= i of the mean of j..k (Barlow et al. 1972)."""
    values, weights = given_points
    n = len(values)

    def mean(j: int, k: int) -> float:
        return float(np.average(values[j : k + 1], weights=weights[j : k + 1]))

    expected = [max(min(mean(j, k) for k in range(i, n)) for j in range(i + 1)) for i in range(n)]
    assert pool_adjacent_violators(values, weights) == pytest.approx(expected, abs=1e-9)


@given(points)
def test_never_falls_and_keeps_the_mean(given_points: Points) -> None:
    """The fit is nondecreasing, has the data's weighted mean, and is its own fit."""
    values, weights = given_points
    fit = pool_adjacent_violators(values, weights)
    assert (np.diff(fit) >= 0).all()
    assert np.average(fit, weights=weights) == pytest.approx(
        np.average(values, weights=weights), abs=1e-9
    )
    assert pool_adjacent_violators(fit, weights) == pytest.approx(fit, abs=1e-9)


def test_nothing_given_gives_nothing() -> None:
    """No level yet is an empty picture, no error."""
    assert pool_adjacent_violators([], []).shape == (0,)
    assert isotonic_failure_rate([], [], []).shape == (0,)


@pytest.mark.parametrize(
    ("values", "weights"),
    [
        ([1, 2], [1]),
        ([[1, 2]], [[1, 1]]),
        ([1, 2], [1, 0]),
        ([1, 2], [1, -1]),
        ([1, float("nan")], [1, 1]),
        ([1, 2], [1, float("inf")]),
    ],
)
def test_values_and_weights_must_fit(values: Any, weights: Any) -> None:
    """Shapes, signs and finiteness are checked."""
    with pytest.raises(ValueError, match="expected"):
        pool_adjacent_violators(values, weights)


@pytest.mark.parametrize(
    ("levels", "runs", "failures"),
    [
        ([1, 1], [1, 1], [0, 1]),
        ([1, 2], [1, 0], [0, 0]),
        ([1, 2], [1, 1], [0, 2]),
        ([1, 2], [1, 1], [0, -1]),
        ([1, 2], [1, 1], [0, float("nan")]),
        ([1, 2], [1, 1], [0]),
    ],
)
def test_counts_must_make_sense(levels: Any, runs: Any, failures: Any) -> None:
    """A level twice, no runs, or more failures than runs is refused."""
    with pytest.raises(ValueError, match="expected"):
        isotonic_failure_rate(levels, runs, failures)
