"""Student's t against the reference library."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from planner.trade.student import t_cdf, t_quantile, two_sided, two_sided_power

freedoms = st.floats(0.6, 500)


@given(st.floats(-30, 30), freedoms)
def test_probabilities_equal_scipy(t: float, freedom: float) -> None:
    """Reference: scipy.stats.t."""
    assert t_cdf(t, freedom) == pytest.approx(stats.t.cdf(t, freedom), abs=1e-10)
    assert two_sided(t, freedom) == pytest.approx(2 * stats.t.sf(abs(t), freedom), abs=1e-10)


@given(st.floats(0.001, 0.999), freedoms)
def test_quantiles_equal_scipy(probability: float, freedom: float) -> None:
    """Reference: scipy.stats.t."""
    expected = stats.t.ppf(probability, freedom)
    assert t_quantile(probability, freedom) == pytest.approx(expected, rel=1e-6, abs=1e-6)


@given(st.floats(0, 6), st.floats(2, 200))
def test_power_equals_scipy(shift: float, freedom: float) -> None:
    """Reference: scipy.stats.nct, both tails."""
    limit = stats.t.ppf(0.975, freedom)
    upper, lower = stats.nct.sf(limit, freedom, shift), stats.nct.cdf(-limit, freedom, shift)
    assert two_sided_power(shift, freedom) == pytest.approx(upper + lower, abs=2e-6)
