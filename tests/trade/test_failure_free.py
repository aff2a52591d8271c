"""Mean time between failures: bounds and plans as the handbooks print them."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from planner.trade.failure_free import (
    hours_factor,
    least_mean_time,
    mean_time_bounds,
    plan_risks,
)
from planner.trade.gamma import chi_square_quantile, gamma_cdf, poisson_at_least


@pytest.mark.parametrize(
    ("failures", "confidence", "low", "high"),
    [
        (1, 0.9, 0.2108, 19.4957),
        (2, 0.9, 0.3177, 5.6281),
        (3, 0.9, 0.3869, 3.6689),
        (5, 0.9, 0.4756, 2.5379),
        (10, 0.9, 0.5895, 1.8432),
        (1, 0.6, 0.3340, 4.4814),
        (1, 0.8, 0.2571, 9.4912),
        (1, 0.95, 0.1795, 39.4979),
    ],
)
def test_two_sided_factors(failures: int, confidence: float, low: float, high: float) -> None:
    """NIST e-Handbook 8.4.5.1, the table of factors of T / r (formula read, table from memory)."""
    bounds = mean_time_bounds(failures * 1.0, failures, confidence)
    assert bounds == pytest.approx((low, high), abs=5e-5)


def test_handbook_example() -> None:
    """NIST e-Handbook 8.4.5.1: 800 h, 2 failures, 90 %: 127 and 2251 h (from memory)."""
    assert mean_time_bounds(800, 2, 0.9) == pytest.approx((127.07, 2251.23), abs=0.01)


@pytest.mark.parametrize(
    ("confidence", "factor"),
    [(0.5, 1.4427), (0.6, 1.0914), (0.8, 0.6213), (0.9, 0.4343), (0.95, 0.3338)],
)
def test_no_failure(confidence: float, factor: float) -> None:
    """NIST e-Handbook 8.4.5.1: T / -ln(1 - C) after T hours without a failure."""
    assert least_mean_time(1000, 0, confidence) == pytest.approx(1000 * factor, abs=0.05)
    assert mean_time_bounds(1000, 0, confidence)[1] == math.inf


@pytest.mark.parametrize(
    ("failures", "factors"),
    [
        (0, (0.693, 0.916, 1.386, 1.609, 2.303, 2.996)),
        (1, (1.678, 2.022, 2.693, 2.994, 3.890, 4.744)),
        (2, (2.674, 3.105, 3.920, 4.279, 5.322, 6.296)),
        (4, (4.671, 5.237, 6.274, 6.721, 7.994, 9.154)),
        (10, (10.669, 11.515, 13.020, 13.651, 15.407, 16.962)),
    ],
)
def test_test_length_factors(failures: int, factors: tuple[float, ...]) -> None:
    """NIST e-Handbook 8.3.1.1, at 50, 60, 75, 80, 90 and 95 % (table from memory)."""
    found = [hours_factor(failures, c) for c in (0.5, 0.6, 0.75, 0.8, 0.9, 0.95)]
    assert found == pytest.approx(factors, abs=6e-4)


@pytest.mark.parametrize(
    ("ratio", "length", "rejects", "alpha", "beta"),
    [
        (1.5, 45.0, 37, 11.96, 9.94),
        (1.5, 29.9, 26, 10.92, 21.35),
        (1.5, 21.1, 18, 17.76, 22.06),
        (2, 18.8, 14, 9.58, 10.62),
        (2, 12.4, 10, 9.84, 20.92),
        (2, 7.8, 6, 19.94, 21.03),
        (2, 3.7, 3, 28.28, 28.54),
        (3, 9.3, 6, 9.43, 9.86),
        (3, 5.4, 4, 10.87, 21.33),
        (3, 4.3, 3, 17.46, 19.74),
        (1.5, 8.0, 7, 28.80, 31.34),
        (3, 1.1, 1, 30.70, 33.29),
    ],
)
def test_fixed_length_plans(
    ratio: float, length: float, rejects: int, alpha: float, beta: float
) -> None:
    """MIL-HDBK-781A, fixed-duration plans; their true risks in per cent (plans from memory;
    the risks of the third and the seventh worked outside the code)."""
    risks = plan_risks(length, ratio, rejects)
    assert [100 * risk for risk in risks] == pytest.approx([alpha, beta], abs=0.01)


@given(st.floats(0.1, 400), st.floats(0, 900))
def test_gamma_equals_scipy(shape: float, x: float) -> None:
    """Reference: scipy.stats.gamma."""
    assert gamma_cdf(shape, x) == pytest.approx(stats.gamma.cdf(x, shape), abs=1e-11)


@given(st.integers(1, 200), st.floats(0.001, 0.999))
def test_chi_square_equals_scipy(freedom: int, probability: float) -> None:
    """Reference: scipy.stats.chi2."""
    expected = stats.chi2.ppf(probability, freedom)
    assert chi_square_quantile(probability, freedom) == pytest.approx(expected, rel=1e-8)


def test_poisson_by_adding_up() -> None:
    """1 - e^-m (1 + m + m^2 / 2), by hand."""
    m = 2.5
    expected = 1 - math.exp(-m) * (1 + m + m * m / 2)
    assert poisson_at_least(3, m) == pytest.approx(expected, abs=1e-14)
    assert poisson_at_least(0, m) == 1


@given(st.floats(1, 1e5), st.integers(0, 20), st.floats(0.5, 0.99))
def test_more_hours_and_fewer_failures_show_more(
    hours: float, failures: int, confidence: float
) -> None:
    """The bound grows with the hours, and falls with failures and confidence."""
    bound = least_mean_time(hours, failures, confidence)
    assert least_mean_time(2 * hours, failures, confidence) == pytest.approx(2 * bound)
    assert least_mean_time(hours, failures + 1, confidence) < bound
    assert least_mean_time(hours, failures, confidence + 0.005) < bound


def test_nonsense_is_refused() -> None:
    """No negative hours, no certainty, no plan that rejects at once."""
    with pytest.raises(ValueError, match="expected"):
        least_mean_time(-1, 0, 0.9)
    with pytest.raises(ValueError, match="expected"):
        least_mean_time(1, 0, 1.0)
    with pytest.raises(ValueError, match="expected"):
        plan_risks(1, 1, 1)
