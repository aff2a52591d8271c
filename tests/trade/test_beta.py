"""The beta distribution against scipy, which the package itself never imports."""

import pytest
from scipy import special

from planner.trade.beta import beta_cdf, beta_quantile

PARAMETERS = [(1, 1), (1, 5000), (5000, 1), (2, 9), (0.5, 0.5), (37, 12), (2500, 2501), (4990, 11)]


@pytest.mark.parametrize(("a", "b"), PARAMETERS)
def test_probability_equals_scipy(a: float, b: float) -> None:
    """I_x(a, b) to 1e-10 over the whole of [0, 1]; reference: scipy.special.betainc."""
    for x in (0.0, 1e-6, 0.002, 0.1, 0.4, 0.5, 0.500_2, 0.75, 0.99, 0.998, 1 - 1e-6, 1.0):
        assert beta_cdf(x, a, b) == pytest.approx(special.betainc(a, b, x), abs=1e-10)


@pytest.mark.parametrize(("a", "b"), PARAMETERS)
def test_small_probabilities_keep_their_digits(a: float, b: float) -> None:
    """A lower tail is right relative to itself; reference: scipy.special.betainc."""
    x = 0.9 * a / (a + b)
    assert beta_cdf(x, a, b) == pytest.approx(special.betainc(a, b, x), rel=1e-9, abs=0)


@pytest.mark.parametrize(("a", "b"), PARAMETERS)
def test_quantile_equals_scipy(a: float, b: float) -> None:
    """Quantiles to 1e-9 of themselves; reference: scipy.special.betaincinv."""
    for probability in (1e-7, 0.0005, 0.025, 0.05, 0.5, 0.95, 0.999_5):
        expected = special.betaincinv(a, b, probability)
        assert beta_quantile(probability, a, b) == pytest.approx(expected, rel=1e-9, abs=0)


def test_closed_forms() -> None:
    """I_x(a, 1) = x^a and I_x(1, b) = 1 - (1 - x)^b by integrating the density."""
    assert beta_cdf(0.3, 7, 1) == pytest.approx(0.3**7, rel=1e-13)
    assert beta_cdf(0.3, 1, 7) == pytest.approx(1 - 0.7**7, rel=1e-13)
    assert beta_quantile(0.05, 59, 1) == pytest.approx(0.05 ** (1 / 59), rel=1e-13)


@pytest.mark.parametrize(
    ("x", "a", "b"), [(-0.1, 1, 1), (1.1, 1, 1), (float("nan"), 1, 1), (0.5, 0, 1), (0.5, 1, -2)]
)
def test_nonsense_is_refused(x: float, a: float, b: float) -> None:
    """Outside its domain neither function answers."""
    with pytest.raises(ValueError, match="expected"):
        beta_cdf(x, a, b)
    with pytest.raises(ValueError, match="expected"):
        beta_quantile(x, a, b)


@pytest.mark.parametrize("probability", [0, 1])
def test_quantile_needs_an_open_probability(probability: float) -> None:
    """The ends of the support are exact and belong to whoever asks for an interval."""
    with pytest.raises(ValueError, match="both excluded"):
        beta_quantile(probability, 2, 3)
