"""Runs that a claim of reliability needs."""

from fractions import Fraction
from math import comb

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trade.reliability import lower_bound, runs_needed, success_run

percent = st.integers(1, 99)


def exact_tail(runs: int, failures: int, reliability: Fraction) -> Fraction:
    """P(at most `failures` in `runs`), in exact fractions."""
    return sum(
        (
            comb(runs, k) * (1 - reliability) ** k * reliability ** (runs - k)
            for k in range(min(failures, runs) + 1)
        ),
        Fraction(0),
    )


@pytest.mark.parametrize(
    ("confidence", "reliability", "runs"),
    [
        (0.90, 0.90, 22),
        (0.95, 0.90, 29),
        (0.90, 0.95, 45),
        (0.95, 0.95, 59),
        (0.80, 0.90, 16),
        (0.90, 0.80, 11),
        (0.95, 0.80, 14),
        (0.99, 0.90, 44),
        (0.99, 0.95, 90),
        (0.90, 0.99, 230),
        (0.95, 0.99, 299),
        (0.99, 0.99, 459),
        (0.95, 0.999, 2995),
        (0.50, 0.50, 1),
    ],
)
def test_success_run_table(confidence: float, reliability: float, runs: int) -> None:
    """n = ceil(ln(1 - C) / ln R), the textbook success-run formula; values computed from it."""
    assert success_run(reliability, confidence) == runs
    assert runs_needed(reliability, confidence) == runs


@pytest.mark.parametrize("reliability", range(1, 100))
def test_success_run_is_exact_in_whole_percent(reliability: int) -> None:
    """The least n with R^n <= 1 - C in integer arithmetic, exact powers included."""
    for confidence in range(1, 100):
        runs = 1
        while 100 * reliability**runs > (100 - confidence) * 100**runs:
            runs += 1
        assert success_run(reliability / 100, confidence / 100) == runs


@pytest.mark.parametrize(
    ("reliability", "confidence", "runs"),
    [
        (0.90, 0.90, (22, 38, 52, 65)),
        (0.90, 0.95, (29, 46, 61, 76)),
        (0.95, 0.90, (45, 77, 105, 132)),
        (0.95, 0.95, (59, 93, 124, 153)),
        (0.99, 0.95, (299, 473, 628, 773)),
        (0.99, 0.99, (459, 662, 838, 1001)),
    ],
)
def test_runs_with_failures_allowed(
    reliability: float, confidence: float, runs: tuple[int, ...]
) -> None:
    """0, 1, 2, 3 failures; 59, 93, 124, 153 are Wilks' numbers (1941, from memory)."""
    assert tuple(runs_needed(reliability, confidence, f) for f in range(4)) == runs


@given(percent, percent, st.integers(0, 6))
def test_runs_needed_is_the_least(reliability: int, confidence: int, failures: int) -> None:
    """The exact binomial tail is at most 1 - C at n runs and above it at n - 1."""
    runs = runs_needed(reliability / 100, confidence / 100, failures)
    allowed, passing = 1 - Fraction(confidence, 100), Fraction(reliability, 100)
    assert exact_tail(runs, failures, passing) <= allowed
    assert exact_tail(runs - 1, failures, passing) > allowed


@pytest.mark.parametrize(
    ("reliability", "confidence", "failures", "runs"),
    [
        (0.5, 0.5, 1, 3),
        (0.5, 0.890625, 1, 6),
        (0.8, 0.1808, 1, 4),
        (0.9, 0.0523, 1, 4),
        (0.7, 0.126036, 3, 7),
    ],
)
def test_exact_ties_cost_no_run(
    reliability: float, confidence: float, failures: int, runs: int
) -> None:
    """A tail of exactly 1 - C is enough: at R = 1/2, (1 + 3) / 8 for one failure in three."""
    tail = exact_tail(runs, failures, Fraction(str(reliability)))
    assert tail == 1 - Fraction(str(confidence))
    assert runs_needed(reliability, confidence, failures) == runs


def test_next_to_no_confidence_takes_one_run() -> None:
    """A claim needs at least one run, however little is asked of it."""
    assert success_run(0.9, 1e-12) == runs_needed(0.9, 1e-12) == 1


@given(st.floats(0.05, 0.995), st.floats(0.05, 0.995), st.integers(0, 4))
def test_runs_needed_agrees_with_the_lower_bound(
    reliability: float, confidence: float, failures: int
) -> None:
    """What runs_needed promises, Clopper-Pearson's bound confirms, and not one run earlier."""
    runs = runs_needed(reliability, confidence, failures)
    assert lower_bound(runs - failures, runs, confidence) >= reliability - 1e-8
    if runs - 1 >= failures:
        assert lower_bound(runs - 1 - failures, runs - 1, confidence) < reliability + 1e-8


def test_raising_the_failures_allowed_weakens_the_claim() -> None:
    """Why they are fixed beforehand: exact false claims at 90/90 when they follow the record."""
    needed = [runs_needed(0.9, 0.9, f) for f in range(4)]
    open_campaigns = {0: 1.0}
    false_claims: list[float] = []
    for run in range(1, needed[-1] + 1):
        after: dict[int, float] = {}
        for failed, chance in open_campaigns.items():
            after[failed] = after.get(failed, 0) + 0.9 * chance
            after[failed + 1] = after.get(failed + 1, 0) + 0.1 * chance
        claimed = [f for f in after if f < 4 and run >= needed[f]]
        false_claims.extend(after.pop(f) for f in claimed)
        open_campaigns = after
    assert false_claims[0] == pytest.approx(0.9**22)
    assert sum(false_claims) == pytest.approx(0.20, abs=0.005)


@given(st.floats(0.05, 0.995), percent, percent)
def test_more_is_asked_for_more(reliability: float, one: int, other: int) -> None:
    """Runs needed never fall with confidence, nor with failures allowed."""
    low, high = sorted((one / 100, other / 100))
    assert runs_needed(reliability, low, 2) <= runs_needed(reliability, high, 2)
    assert runs_needed(reliability, low, 2) < runs_needed(reliability, low, 3)


@pytest.mark.parametrize("nonsense", [0, 1, -0.1, 95, float("nan")])
def test_probabilities_outside_the_open_interval_are_refused(nonsense: float) -> None:
    """The message names the argument and what was expected."""
    with pytest.raises(ValueError, match=r"reliability = .* between 0 and 1"):
        success_run(nonsense, 0.9)
    with pytest.raises(ValueError, match=r"confidence = .* between 0 and 1"):
        runs_needed(0.9, nonsense, 1)


def test_negative_failures_are_refused() -> None:
    """Fewer than no failure cannot be allowed."""
    with pytest.raises(ValueError, match="failures = -1"):
        runs_needed(0.9, 0.9, -1)
