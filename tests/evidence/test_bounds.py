"""The dynamic programmes that bound any search."""

import math

import pytest

from tests.evidence.one_knob import load

least_expected = load("bounds").least_expected


@pytest.mark.parametrize(
    ("costs", "cells", "least"),
    [
        ((1, 1), 8, 3.0),
        ((1, 1), 64, 6.0),
        ((1, 2), 2, 1.5),
        ((1, 2), 3, 2.333333),
        ((1, 2), 5, 3.4),
        ((1, 2), 8, 4.375),
        ((1, 2), 64, 8.75),
        ((1, 5), 2, 3.0),
        ((1, 5), 8, 7.75),
        ((1, 5), 64, 15.171875),
        ((1, 10), 8, 12.25),
        ((1, 10), 64, 24.0),
    ],
)
def test_least_expected_cost(costs: tuple[int, int], cells: int, least: float) -> None:
    """Pass and crash at unequal costs; figures from an independent dynamic programme."""
    assert least_expected(cells, *costs) == pytest.approx(least, abs=1e-6)


@pytest.mark.parametrize(("cells", "tests"), [(2, 1), (4, 2), (16, 4), (64, 6)])
def test_plain_bisection(cells: int, tests: int) -> None:
    """At equal costs a power of two takes its logarithm in tests (textbook)."""
    assert least_expected(cells, 1, 1) == tests


def test_a_code_cannot_be_shorter_than_its_entropy() -> None:
    """ln n / ln L with 1/L + L^-b = 1 bounds from below; b = 2: L is the golden section."""
    bound = math.log(64) / math.log((1 + math.sqrt(5)) / 2)
    assert bound <= least_expected(64, 1, 2) <= bound + 2


@pytest.mark.parametrize("cells", [3, 9, 30])
def test_near_enough_costs_less(cells: int) -> None:
    """To within one step costs less than exactly, by no more than one test between two cells."""
    near, exact = least_expected(cells, 5, 4, 2), least_expected(cells, 5, 4)
    assert exact - (5 + 4) / 2 <= near + 1e-9
    assert near < exact
