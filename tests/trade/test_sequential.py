"""Sequential tests: limits as published, mean lengths by another way of counting."""

from math import log

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trade.sequential import SequentialTest

HANDBOOK = SequentialTest(good=0.01, bad=0.10, alpha=0.05, beta=0.10)


def test_limits_of_the_handbook_example() -> None:
    """NIST e-Handbook 6.2.6: h1 0.939, h2 1.205, s 0.0397 (printed digits from memory)."""
    assert HANDBOOK.heights == pytest.approx((0.938862, 1.205379), abs=1e-6)
    assert HANDBOOK.slope == pytest.approx(0.039747, abs=1e-6)


def test_limits_are_of_the_likelihood_ratio() -> None:
    """ln 18 above, ln 0.105263 below (Wald: (1 - beta) / alpha, beta / (1 - alpha))."""
    k = log(0.10 * 0.99 / (0.01 * 0.90))
    below, above = HANDBOOK.heights
    assert (k * above, k * -below) == pytest.approx((log(18), log(0.105263)), abs=1e-5)


def test_decisions_of_the_handbook_example() -> None:
    """Same example: accept at 0 failures from 24, 1 from 49; reject 2 to 19, 3 to 45, 4 from 46."""
    assert [HANDBOOK.runs_to_accept(d) for d in (0, 1)] == [24, 49]
    assert [HANDBOOK.rejects_at(n) for n in (2, 19, 20, 45, 46)] == [2, 2, 3, 3, 4]
    assert (HANDBOOK.accepts_at(100), HANDBOOK.rejects_at(100)) == (3, 6)
    assert (HANDBOOK.accepts_at(23), HANDBOOK.accepts_at(24)) == (-1, 0)


@pytest.mark.parametrize(
    ("failing", "runs", "accepts"),
    [
        (0.0, 24.0, 1.0),
        (0.01, 30.2127, 1 - 0.022047),
        (0.05, 37.1231, 0.468859),
        (0.10, 22.3692, 0.099579),
    ],
)
def test_exact_course(failing: float, runs: float, accepts: float) -> None:
    """Computed outside the project by dynamic programming over the same limits."""
    course = HANDBOOK.course(failing)
    assert course.runs == pytest.approx(runs, abs=1e-4)
    assert course.accepts == pytest.approx(accepts, abs=1e-6)


def test_walds_own_length_is_too_small() -> None:
    """Wald's formula gives 27.957 and 16.447 runs at 1 and 10 %; the exact ones are longer."""
    assert HANDBOOK.course(0.01).runs > 1.05 * 27.957
    assert HANDBOOK.course(0.10).runs > 1.3 * 16.447
    assert HANDBOOK.course(0.2).runs == pytest.approx(10.3517, abs=1e-4)


def test_course_equals_played_tests() -> None:
    """20,000 tests played run by run agree within four standard errors."""
    plan, failing, rng = SequentialTest(0.02, 0.2), 0.08, np.random.default_rng(5)
    failures = np.zeros(20_000, int)
    length, accepted, open_ = np.zeros(20_000), np.zeros(20_000, bool), np.ones(20_000, bool)
    for n in range(1, 3000):
        length[open_] += 1
        failures += (rng.random(20_000) < failing) & open_
        accept = open_ & (failures <= plan.accepts_at(n))
        accepted |= accept
        open_ &= ~accept & (failures < plan.rejects_at(n))
        if not open_.any():
            break
    course = plan.course(failing)
    assert course.runs == pytest.approx(length.mean(), abs=4 * length.std() / 20_000**0.5)
    assert course.accepts == pytest.approx(accepted.mean(), abs=4 * 0.5 / 20_000**0.5)


@pytest.mark.slow
@given(st.floats(0.01, 0.2), st.floats(0.05, 0.4), st.floats(0.02, 0.3), st.floats(0.02, 0.3))
def test_true_risks_add_up_to_no_more_than_stated(
    good: float, more: float, alpha: float, beta: float
) -> None:
    """Wald: the two true risks together never pass the two nominal ones together."""
    plan = SequentialTest(good, good + more, alpha, beta)
    rejects_good = 1 - plan.course(good).accepts
    accepts_bad = plan.course(good + more).accepts
    assert rejects_good + accepts_bad <= alpha + beta + 1e-9


@pytest.mark.parametrize(
    "given", [(0.1, 0.1), (0.0, 0.1), (0.2, 0.1), (0.1, 0.2, 0.0), (0.1, 0.2, 0.1, 0.5)]
)
def test_nonsense_is_refused(given: tuple[float, ...]) -> None:
    """Probabilities out of order, and risks that are none."""
    with pytest.raises(ValueError, match="expected"):
        SequentialTest(*given)
