"""Bounded search of one edge at unequal costs: least expected cost and its cuts."""

from functools import cache
from math import ceil, inf, log, log2

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trade.search_cost import best_split

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


@cache
def mean_cost(cells: int, pass_cost: float, fail_cost: float) -> float:
    """Mean cost of a search that follows best_split to the end."""
    if cells == 1:
        return 0.0
    below = best_split(cells, pass_cost, fail_cost)
    above = cells - below
    fails = below * (fail_cost + mean_cost(below, pass_cost, fail_cost))
    passes = above * (pass_cost + mean_cost(above, pass_cost, fail_cost))
    return (fails + passes) / cells


@pytest.mark.parametrize(
    ("pass_cost", "fail_cost", "expected"),
    [
        (1, 1, {8: 3.0, 64: 6.0}),
        (1, 2, {1: 0.0, 2: 1.5, 3: 2.333333, 5: 3.4, 8: 4.375, 64: 8.75}),
        (1, 5, {2: 3.0, 8: 7.75, 64: 15.171875}),
        (1, 10, {8: 12.25, 64: 24.0}),
    ],
)
def test_mean_cost_table(pass_cost: float, fail_cost: float, expected: dict[int, float]) -> None:
    """Uniform prior over n cells; numbers of an exact dynamic programme over every cut."""
    for cells, cost in expected.items():
        assert mean_cost(cells, pass_cost, fail_cost) == pytest.approx(cost, abs=1e-6)


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


GROWTH = {1: 2, 2: 1.618034, 3: 1.465571, 5: 1.324718, 10: 1.197491, 20: 1.118699}
"""Roots of 1/L + L^-b = 1, by b: golden ratio at 2, plastic number at 5; from outside the code."""


@pytest.mark.parametrize("fail_cost", GROWTH)
def test_mean_cost_respects_the_information_bound(fail_cost: int) -> None:
    """Never below ln n / ln L, and less than one failure above it."""
    for cells in (2, 3, 17, 64, 500):
        excess = mean_cost(cells, 1, fail_cost) - log(cells) / log(GROWTH[fail_cost])
        assert -1e-5 <= excess < fail_cost


@pytest.mark.parametrize(
    ("fail_cost", "share"), [(2, 0.381966), (3, 0.317672), (5, 0.245122), (10, 0.164921)]
)
def test_best_split_approaches_the_asymptotic_share(fail_cost: int, share: float) -> None:
    """Of many cells about L^-b lie below the cut; worked outside the code."""
    assert best_split(4000, 1, fail_cost) / 4000 == pytest.approx(share, abs=0.03)


@given(st.integers(2, 200), costs, costs)
def test_dearer_failures_and_units(cells: int, pass_cost: float, fail_cost: float) -> None:
    """The unit of cost moves no cut, and swapping the costs mirrors the expected cost."""
    assert best_split(cells, 4 * pass_cost, 4 * fail_cost) == best_split(
        cells, pass_cost, fail_cost
    )
    mirrored = mean_cost(cells, fail_cost, pass_cost)
    assert mirrored == pytest.approx(mean_cost(cells, pass_cost, fail_cost), rel=1e-12)


@pytest.mark.parametrize("cost", [0, -1, inf, float("nan")])
def test_costs_are_positive_numbers(cost: float) -> None:
    """A free or endless run is no cost to plan with."""
    with pytest.raises(ValueError, match=r"pass_cost = .* positive"):
        best_split(5, cost, 1)
    with pytest.raises(ValueError, match=r"fail_cost = .* positive"):
        best_split(5, 1, cost)


@pytest.mark.parametrize("cells", [1, 0, -3])
def test_one_cell_leaves_nothing_to_cut(cells: int) -> None:
    """One cell is found already; fewer are no question."""
    with pytest.raises(ValueError, match=f"cells = {cells}: expected 2"):
        best_split(cells, 1, 1)
