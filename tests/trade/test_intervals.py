"""Intervals of a failure probability from counted runs."""

from collections.abc import Callable
from math import comb

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import special

from planner.trade.reliability import clopper_pearson, lower_bound

counts = st.integers(1, 400).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n)))
confidences = st.floats(0.01, 0.999)


def test_clopper_pearson_nist_example() -> None:
    """4 failures of 20 at 90 %: NIST e-Handbook 7.2.4.1 prints 0.071354, 0.401029 (memory)."""
    low, high = clopper_pearson(4, 20)
    assert low == pytest.approx(0.071354, abs=1e-6)
    assert high == pytest.approx(0.401029, abs=1e-6)


@pytest.mark.parametrize(
    ("failures", "runs", "low", "high"),
    [
        (0, 10, 0, 0.308497),
        (0, 20, 0, 0.168433),
        (0, 30, 0, 0.115703),
        (1, 10, 0.002529, 0.445016),
        (5, 10, 0.187086, 0.812914),
        (10, 10, 0.691503, 1),
        (81, 263, 0.252737, 0.367622),
        (15, 148, 0.057844, 0.161650),
        (1, 29, 0.000873, 0.177644),
    ],
)
def test_clopper_pearson_95(failures: int, runs: int, low: float, high: float) -> None:
    """Cases of Newcombe 1998, Table I, among others; the limits' printing from memory."""
    interval = clopper_pearson(failures, runs, 0.95)
    assert interval == pytest.approx((low, high), abs=1e-6)
    assert (interval[0] == 0, interval[1] == 1) == (failures == 0, failures == runs)


@pytest.mark.parametrize("runs", [1, 2, 3, 29, 100, 999, 5000])
@pytest.mark.parametrize("confidence", [0.5, 0.9, 0.95, 0.999_999])
def test_clopper_pearson_equals_scipy(runs: int, confidence: float) -> None:
    """To 1e-9 up to 5,000 runs, ends included; reference: scipy.special.betaincinv."""
    tail = (1 - confidence) / 2
    for failures in {0, 1, 2, runs // 3, runs // 2, runs - 1, runs} & set(range(runs + 1)):
        passes = runs - failures
        low = special.betaincinv(failures, passes + 1, tail) if failures else 0
        high = 1 - special.betaincinv(passes, failures + 1, tail) if passes else 1
        assert clopper_pearson(failures, runs, confidence) == pytest.approx((low, high), abs=1e-9)


@pytest.mark.slow
@given(counts, confidences)
def test_clopper_pearson_contains_the_rate(count: tuple[int, int], confidence: float) -> None:
    """The observed rate lies within, and passes mirror failures."""
    failures, runs = count
    low, high = clopper_pearson(failures, runs, confidence)
    mirrored = clopper_pearson(runs - failures, runs, confidence)
    assert 0 <= low <= failures / runs <= high <= 1
    assert (1 - mirrored[1], 1 - mirrored[0]) == pytest.approx((low, high), abs=1e-12)


@pytest.mark.slow
@given(counts, confidences, confidences)
def test_intervals_widen_with_confidence(count: tuple[int, int], one: float, other: float) -> None:
    """More confidence never gives a narrower interval."""
    less, more = sorted((one, other))
    narrow, wide = clopper_pearson(*count, less), clopper_pearson(*count, more)
    assert wide[0] <= narrow[0] + 1e-12
    assert wide[1] >= narrow[1] - 1e-12


@pytest.mark.slow
@given(st.integers(1, 40), st.floats(0.001, 0.999), st.floats(0.5, 0.99))
def test_clopper_pearson_covers_what_it_promises(
    runs: int, failing: float, confidence: float
) -> None:
    """Summed over all outcomes, at least C of them cover the truth (Clopper & Pearson 1934)."""
    covered = 0.0
    for k in range(runs + 1):
        low, high = clopper_pearson(k, runs, confidence)
        if low <= failing <= high:
            covered += comb(runs, k) * failing**k * (1 - failing) ** (runs - k)
    assert covered >= confidence - 1e-9


@given(counts, confidences)
def test_lower_bound_is_one_end_of_an_interval(count: tuple[int, int], confidence: float) -> None:
    """One-sided at C is the matching end of the two-sided interval at 2C - 1."""
    passes, runs = count
    bound = lower_bound(passes, runs, (1 + confidence) / 2)
    two_sided = clopper_pearson(runs - passes, runs, confidence)
    assert bound == pytest.approx(1 - two_sided[1], abs=1e-9)


def test_lower_bound_closed_form() -> None:
    """n passes of n bound the pass probability by (1 - C)^(1/n); no pass shows nothing."""
    assert lower_bound(22, 22, 0.9) == pytest.approx(0.1 ** (1 / 22), abs=1e-12)
    assert lower_bound(0, 7, 0.9) == 0


@pytest.mark.parametrize(
    ("runs", "rule", "exact"), [(30, 0.1, 0.095034), (100, 0.03, 0.029513), (300, 0.01, 0.009936)]
)
def test_rule_of_three(runs: int, rule: float, exact: float) -> None:
    """3/n against the exact 1 - 0.05^(1/n), which it stays above (Jovanovic & Levy 1997)."""
    bound = 1 - lower_bound(runs, runs, 0.95)
    assert bound == pytest.approx(exact, abs=1e-6)
    assert bound < rule == pytest.approx(3 / runs)


def test_no_runs_say_nothing() -> None:
    """Without a run every probability is possible."""
    assert clopper_pearson(0, 0) == (0, 1)
    assert lower_bound(0, 0, 0.9) == 0


@pytest.mark.parametrize("interval", [clopper_pearson, lower_bound])
@pytest.mark.parametrize("arguments", [(3, 2, 0.9), (-1, 2, 0.9), (0, -1, 0.9)])
def test_impossible_counts_are_refused(
    interval: Callable[..., object], arguments: tuple[int, int, float]
) -> None:
    """The message says how many of how many."""
    with pytest.raises(ValueError, match=r"of -?\d runs: expected from 0"):
        interval(*arguments)


@pytest.mark.parametrize("interval", [clopper_pearson, lower_bound])
@pytest.mark.parametrize("confidence", [0, 1, 90, -0.5, float("nan")])
def test_impossible_confidence_is_refused(
    interval: Callable[..., object], confidence: float
) -> None:
    """90 is not a confidence; 0.9 is."""
    with pytest.raises(ValueError, match=r"confidence = .* between 0 and 1"):
        interval(1, 2, confidence)
