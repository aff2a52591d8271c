"""Expected improvement of a normal prediction."""

from math import inf, nan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.models.expected_improvement import expected_improvement

scores = st.floats(-1e3, 1e3)
spreads = st.floats(1e-3, 1e3)


@pytest.mark.parametrize(
    ("mean", "sd", "best", "expected"),
    [
        (0, 1, 0, 0.398942),
        (1, 1, 0, 1.083315),
        (-1, 1, 0, 0.083315),
        (2, 0.5, 1.5, 0.541658),
        (0, 2, 1, 0.395593),
    ],
)
def test_closed_form(mean: float, sd: float, best: float, expected: float) -> None:
    """Jones, Schonlau & Welch 1998, eq. 15 (number from memory); values computed from it."""
    assert expected_improvement(mean, sd, best) == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize(("mean", "sd", "best"), [(0.3, 1.0, 0.0), (-2, 1.5, 1), (5, 0.2, 5.1)])
def test_is_the_mean_gain(mean: float, sd: float, best: float) -> None:
    """Equals the integral of max(0, score - best) over the normal density."""
    score = np.linspace(best, max(best, mean) + 10 * sd, 200_001)
    density = np.exp(-(((score - mean) / sd) ** 2) / 2) / (sd * np.sqrt(2 * np.pi))
    integral = float(np.trapezoid((score - best) * density, score))
    assert expected_improvement(mean, sd, best) == pytest.approx(integral, abs=1e-8)


@given(scores, scores)
def test_no_spread_leaves_the_plain_gain(mean: float, best: float) -> None:
    """At sd = 0, and towards it, what remains is max(0, mean - best)."""
    gain = max(0.0, mean - best)
    assert expected_improvement(mean, 0, best) == gain
    assert expected_improvement(mean, 1e-12, best) == pytest.approx(gain, abs=1e-11)


@given(scores, spreads, scores, spreads)
def test_never_below_the_sure_gain(mean: float, sd: float, best: float, more: float) -> None:
    """It is at least 0 and the plain gain, and grows with the spread."""
    improvement = expected_improvement(mean, sd, best)
    assert improvement >= 0
    assert improvement >= mean - best - 1e-9
    assert expected_improvement(mean, sd + more, best) >= improvement - 1e-9


def test_far_below_the_best_keeps_its_digits() -> None:
    """Eight sd below: phi(8) (1/64 - 3/64^2 + 15/64^3 - ...), from Mills' ratio expanded."""
    phi = np.exp(-32) / np.sqrt(2 * np.pi)
    series = 1 / 64 - 3 / 64**2 + 15 / 64**3 - 105 / 64**4
    assert expected_improvement(-8, 1, 0) == pytest.approx(phi * series, rel=1e-4, abs=0)


@pytest.mark.parametrize(
    ("mean", "sd", "best"), [(nan, 1, 0), (0, nan, 0), (0, inf, 0), (0, -1, 0), (0, 1, inf)]
)
def test_nonsense_is_refused(mean: float, sd: float, best: float) -> None:
    """A prediction needs finite numbers and a spread of at least 0."""
    with pytest.raises(ValueError, match="expected finite"):
        expected_improvement(mean, sd, best)
