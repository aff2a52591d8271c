"""Totals and brackets; the rule is a definition, checked by hand."""

from planner.trade.cost import Cost, cost_of

BRACKETS = {"open": 5000.0, "small": 500.0, "middle": 1200.0}


def test_the_lowest_bracket_that_fits() -> None:
    """410 + 240 + 130 = 780: over small, within middle, in whatever order they are given."""
    assert cost_of([410, 240, 130], BRACKETS) == Cost(780, 0, "middle", 1200, "")


def test_at_a_ceiling_it_still_fits() -> None:
    """Also where binary fractions would lie a last bit above."""
    assert cost_of([0.1, 0.2], {"tiny": 0.3}) == Cost(0.3, 0, "tiny", 0.3, "")


def test_above_all_of_them() -> None:
    """It says above which."""
    assert cost_of([6000], BRACKETS) == Cost(6000, 0, "", None, "open")


def test_untold_prices_are_counted() -> None:
    """The total is then the least that it can be."""
    assert cost_of([100, None], BRACKETS) == Cost(100, 1, "small", 500, "")
    assert cost_of([None], BRACKETS) is None
    assert cost_of([100], {}) == Cost(100, 0, "", None, "")
