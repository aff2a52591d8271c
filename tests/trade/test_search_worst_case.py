"""Bounded search of one edge: worst cases and crash budgets."""

from functools import cache
from math import inf

import pytest

from planner.trade.search_cost import cells_within, runs_with_crash_budget


@pytest.mark.parametrize(
    ("fail_cost", "cells"),
    [
        (1, [1, 2, 4, 8, 16, 32]),
        (2, [1, 1, 2, 3, 5, 8, 13, 21, 34, 55, 89]),
        (3, [1, 1, 1, 2, 3, 4, 6, 9, 13, 19, 28, 41]),
        (5, [1, 1, 1, 1, 1, 2, 3, 4, 5, 6, 8, 11, 15, 20, 26, 34]),
    ],
)
def test_cells_within_a_worst_case(fail_cost: int, cells: list[int]) -> None:
    """N(t) = N(t-1) + N(t-b), t = 0, 1, ... (Cameron & Narayanamurthy 1964, from memory)."""
    assert [cells_within(cost, fail_cost) for cost in range(len(cells))] == cells


@pytest.mark.parametrize("fail_cost", [1, 2, 4])
def test_cells_within_equals_the_minimax_search(fail_cost: int) -> None:
    """No search tells more cells apart, and some search tells as many (all cuts tried)."""

    @cache
    def worst(cells: int) -> int:
        if cells == 1:
            return 0
        return min(max(fail_cost + worst(j), 1 + worst(cells - j)) for j in range(1, cells))

    for cost in range(12):
        within = [n for n in range(1, 70) if worst(n) <= cost]
        assert min(cells_within(cost, fail_cost), 69) == max(within)


@pytest.mark.parametrize(("crashes", "runs"), [(1, 100), (2, 14), (3, 9)])
def test_crash_budget_for_a_hundred_levels(crashes: int, runs: int) -> None:
    """The egg-drop numbers: 13 runs tell 91 levels, 14 tell 105 (Boardman 2004, from memory)."""
    assert runs_with_crash_budget(100, crashes) == runs


@pytest.mark.parametrize(
    ("levels", "crashes", "runs"), [(91, 2, 13), (105, 2, 14), (92, 3, 8), (129, 3, 9), (0, 1, 0)]
)
def test_crash_budget_is_tight(levels: int, crashes: int, runs: int) -> None:
    """Full sums of binomials take exactly their runs, and one level more takes one more."""
    assert runs_with_crash_budget(levels, crashes) == runs
    assert runs_with_crash_budget(levels + 1, crashes) == runs + 1


@pytest.mark.parametrize("crashes", [1, 2, 3, 4])
def test_crash_budget_equals_the_minimax_search(crashes: int) -> None:
    """The least worst case over every order of trying levels."""

    @cache
    def worst(levels: int, left: int) -> float:
        if levels == 0:
            return 0
        if left == 0:
            return inf
        return 1 + min(
            max(worst(j - 1, left - 1), worst(levels - j, left)) for j in range(1, levels + 1)
        )

    for levels in range(30):
        assert runs_with_crash_budget(levels, crashes) == worst(levels, crashes)


@pytest.mark.parametrize(("cost", "fail_cost"), [(-1, 2), (3, 0)])
def test_impossible_costs_are_refused(cost: int, fail_cost: int) -> None:
    """Whole costs: from nothing spent, and at least a pass's for a failure."""
    with pytest.raises(ValueError, match="expected from 0 and from 1"):
        cells_within(cost, fail_cost)


@pytest.mark.parametrize(("levels", "crashes"), [(5, 0), (-1, 1)])
def test_impossible_budgets_are_refused(levels: int, crashes: int) -> None:
    """Without a crash to spend no search can be sure to end."""
    with pytest.raises(ValueError, match="expected from 0 and from 1"):
        runs_with_crash_budget(levels, crashes)
