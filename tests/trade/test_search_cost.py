"""Bounded search of one edge at unequal costs: least expected cost and its cuts."""

from functools import cache
from math import ceil, inf, log, log2, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trade.search_cost import (
    asymptotic_split,
    best_split,
    cells_within,
    least_expected_cost,
)

costs = st.floats(0.05, 50)


def brute_force(cells: int, pass_cost: float, fail_cost: float) -> list[list[float]]:
    """Mean cost of every first cut of 2..cells cells, optimal afterwards, straight from Bayes."""
    least = [0.0, 0.0]
    cuts: list[list[float]] = [[], []]
    for n in range(2, cells + 1):
        cuts.append(
            [
                j / n * (fail_cost + least[j]) + (n - j) / n * (pass_cost + least[n - j])
                for j in range(1, n)
            ]
        )
        least.append(min(cuts[n]))
    return cuts


@pytest.mark.parametrize(
    ("fail_cost", "growth", "fail_share"),
    [
        (1, 2, 0.5),
        (2, 1.618034, 0.381966),
        (3, 1.465571, 0.317672),
        (5, 1.324718, 0.245122),
        (10, 1.197491, 0.164921),
        (20, 1.118699, 0.106105),
    ],
)
def test_asymptotic_split(fail_cost: int, growth: float, fail_share: float) -> None:
    """Roots of 1/L + L^-b = 1: golden ratio at b = 2, plastic number at b = 5; computed."""
    split = asymptotic_split(fail_cost)
    assert split == pytest.approx((growth, fail_share), abs=1e-6)
    assert split.growth**-fail_cost == pytest.approx(split.fail_share, abs=1e-12)


@pytest.mark.parametrize(
    ("pass_cost", "fail_cost", "expected"),
    [
        (1, 1, {8: 3.0, 64: 6.0}),
        (1, 2, {1: 0.0, 2: 1.5, 3: 2.333333, 5: 3.4, 8: 4.375, 64: 8.75}),
        (1, 5, {2: 3.0, 8: 7.75, 64: 15.171875}),
        (1, 10, {8: 12.25, 64: 24.0}),
    ],
)
def test_least_expected_cost_table(
    pass_cost: float, fail_cost: float, expected: dict[int, float]
) -> None:
    """Uniform prior over n cells; numbers of an exact dynamic programme over every cut."""
    for cells, cost in expected.items():
        assert least_expected_cost(cells, pass_cost, fail_cost) == pytest.approx(cost, abs=1e-6)


@given(costs, costs)
def test_least_expected_cost_equals_brute_force(pass_cost: float, fail_cost: float) -> None:
    """Merging increments is as good as trying every cut, also when a pass costs more."""
    for cells, cuts in list(enumerate(brute_force(40, pass_cost, fail_cost)))[2:]:
        cost = least_expected_cost(cells, pass_cost, fail_cost)
        assert cost == pytest.approx(min(cuts), rel=1e-12)


@given(costs, costs)
def test_best_split_is_a_cheapest_cut(pass_cost: float, fail_cost: float) -> None:
    """No other first cut costs less."""
    for cells, cuts in list(enumerate(brute_force(40, pass_cost, fail_cost)))[2:]:
        below = best_split(cells, pass_cost, fail_cost)
        assert cuts[below - 1] == pytest.approx(min(cuts), rel=1e-11)


def test_best_split_among_equals_is_the_middle() -> None:
    """Six cells at equal costs: 2, 3 and 4 below are equally good, and 3 is taken."""
    cuts = brute_force(6, 1, 1)[6]
    assert [j for j, cost in enumerate(cuts, start=1) if cost < min(cuts) + 1e-9] == [2, 3, 4]
    assert best_split(6, 1, 1) == 3
    assert best_split(3, 1, 1) == 1


@pytest.mark.parametrize(
    ("cells", "runs"), [(2, 1), (3, 2), (5, 3), (9, 4), (16, 4), (17, 5), (64, 6), (65, 7)]
)
def test_equal_costs_give_plain_bisection(cells: int, runs: int) -> None:
    """Following best_split takes at worst ceil(log2 n) runs, the table of plain bisection."""

    @cache
    def worst(remaining: int) -> int:
        if remaining == 1:
            return 0
        below = best_split(remaining, 1, 1)
        return 1 + max(worst(below), worst(remaining - below))

    assert worst(cells) == runs == ceil(log2(cells))
    assert cells_within(runs - 1, 1) < cells <= cells_within(runs, 1)


@pytest.mark.parametrize("fail_cost", [1, 2, 5, 10, 20])
def test_expected_cost_respects_the_information_bound(fail_cost: int) -> None:
    """Never below ln n / ln L, and less than one failure above it."""
    growth = asymptotic_split(fail_cost).growth
    for cells in (2, 3, 17, 64, 500):
        excess = least_expected_cost(cells, 1, fail_cost) - log(cells) / log(growth)
        assert -1e-9 <= excess < fail_cost


def test_information_bound_of_64_cells() -> None:
    """At b = 2 it is ln 64 / ln of the golden ratio, 8.6425, computed."""
    golden = (1 + sqrt(5)) / 2
    assert log(64) / log(golden) == pytest.approx(8.6425, abs=5e-5)
    assert log(64) / log(asymptotic_split(2).growth) == pytest.approx(8.6425, abs=5e-5)


@pytest.mark.parametrize("fail_cost", [2, 3, 5, 10])
def test_best_split_approaches_the_asymptotic_share(fail_cost: int) -> None:
    """Of many cells about L^-b lie below the cut."""
    share = best_split(4000, 1, fail_cost) / 4000
    assert share == pytest.approx(asymptotic_split(fail_cost).fail_share, abs=0.03)


@given(st.integers(2, 200), costs, costs)
def test_dearer_failures_and_units(cells: int, pass_cost: float, fail_cost: float) -> None:
    """The unit of cost moves no cut, and swapping the costs mirrors the expected cost."""
    cost = least_expected_cost(cells, pass_cost, fail_cost)
    assert best_split(cells, 4 * pass_cost, 4 * fail_cost) == best_split(
        cells, pass_cost, fail_cost
    )
    assert least_expected_cost(cells, 4 * pass_cost, 4 * fail_cost) == 4 * cost
    assert least_expected_cost(cells, fail_cost, pass_cost) == pytest.approx(cost, rel=1e-12)


@pytest.mark.parametrize("cost", [0, -1, inf, float("nan")])
def test_costs_are_positive_numbers(cost: float) -> None:
    """A free or endless run is no cost to plan with."""
    with pytest.raises(ValueError, match=r"pass_cost = .* positive"):
        best_split(5, cost, 1)
    with pytest.raises(ValueError, match=r"fail_cost = .* positive"):
        least_expected_cost(5, 1, cost)
    with pytest.raises(ValueError, match=r"fail_cost = .* positive"):
        asymptotic_split(cost)


@pytest.mark.parametrize("cells", [1, 0, -3])
def test_one_cell_leaves_nothing_to_cut(cells: int) -> None:
    """One cell is found at no cost; fewer are no question."""
    assert least_expected_cost(1, 1, 1) == 0
    with pytest.raises(ValueError, match=f"cells = {cells}: expected 2"):
        best_split(cells, 1, 1)
    with pytest.raises(ValueError, match=f"cells = {cells - 1}: expected 1"):
        least_expected_cost(cells - 1, 1, 1)
