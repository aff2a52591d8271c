"""When a gain is one: samples, Welch's test, runs that hang together, repeats that settle it."""

import math
from importlib.resources import files

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from planner.trade.scores.gain import (
    chance_to_reach,
    from_known_spread,
    least_difference,
    repeats_to_settle,
    welch,
)
from planner.trade.scores.spread import (
    Sample,
    autocorrelation,
    one_way,
    pooled_deviation,
    sample_of,
)

DRIFTING = """
.19687 .19735 .19676 .19648 .1987 .19629 .1962 .19666 .19674 .19643 .19636 .19534 .19717 .19615
.19642 .19692 .19535 .19964 .19859 .21323 .21374 .21372 .21351 .21364 .21307 .21292 .21277 .19686
.21776 .21803 .22194 .22296 .22339 .22267 .22284 .22331 .22314 .2189 .22338 .2221 .22231 .21922
.22198 .22326 .2224 .21879 .2187 .22251 .21757 .22218
"""
"""50 repeats of one setting of one memory module (p1, 0xaa, tRCD 5.0 ns, 20 °C), error rates to
five digits: CMU-SAFARI DRAM-Latency-Variation-Study, BSD-3, Copyright (c) 2016 SAFARI Research
Group at Carnegie Mellon University."""


MICHELSON = """
850 740 900 1070 930 850 950 980 980 880 1000 980 930 650 760 810 1000 1000 960 960
960 940 960 940 880 800 850 880 900 840 830 790 810 880 880 830 800 790 760 800
880 880 880 860 720 720 620 860 970 950 880 910 850 870 840 840 850 840 840 840
890 810 810 820 800 770 760 740 750 760 910 920 890 860 880 720 840 850 850 780
890 840 780 810 760 810 790 810 820 850 870 870 810 740 810 940 950 800 810 870
"""
"""Michelson's speeds of light of 1879 less 299,000 km/s, in the order in which they were measured.
From memory: that mean, deviation and autocorrelation come out as certified checks the copy."""


def numbers(text: str) -> list[float]:
    return [float(word) for word in text.split()]


def anova(name: str) -> list[list[float]]:
    """The groups of a data set of NIST StRD, as scipy ships it for its own tests."""
    folder = files("scipy.stats.tests") / "data" / "nist_anova"
    lines = (folder / f"{name}.dat").read_text().splitlines()[60:]
    groups: dict[str, list[float]] = {}
    for group, value in (line.split() for line in lines if line.strip()):
        groups.setdefault(group, []).append(float(value))
    return list(groups.values())


def test_welch_of_the_handbook() -> None:
    """NIST e-Handbook 1.3.5.3, miles per gallon: -12.94627 with 136.875 (from memory)."""
    usa = Sample(249, 20.14458, 6.41470, None, 249)
    japan = Sample(79, 30.48101, 6.10771, None, 79)
    found = welch(japan, usa)
    assert found.t == pytest.approx(-12.94627, abs=1e-4)
    assert found.freedom == pytest.approx(136.875, abs=1e-3)
    assert found.p_value < 1e-20


def test_pooled_spread_of_the_handbook() -> None:
    """The same example with one spread for both: t = -12.62059 with 326 (printed there)."""
    usa = Sample(249, 20.14458, 6.41470, None, 249)
    japan = Sample(79, 30.48101, 6.10771, None, 79)
    pooled = pooled_deviation([usa, japan])
    assert pooled is not None
    assert pooled == pytest.approx((6.34260, 326), abs=1e-5)
    assert from_known_spread(japan, usa, *pooled).t == pytest.approx(-12.62059, abs=1e-4)


def test_the_speed_of_light() -> None:
    """NIST StRD Michelso, certified: 299.8524, 0.0790105478190518 and 0.535199668621283."""
    sample = sample_of([299 + value / 1000 for value in numbers(MICHELSON)])
    assert sample.count == 100
    assert sample.mean == pytest.approx(299.8524, rel=1e-14)
    assert sample.deviation == pytest.approx(0.0790105478190518, rel=1e-11)
    assert sample.lag_one == pytest.approx(0.535199668621283, rel=1e-11)
    assert sample.hangs_together


@pytest.mark.parametrize(
    ("values", "deviation", "lag_one"),
    [
        ([10000001.0, 10000003.0, 10000002.0], 1.0, -0.5),
        ([1.2] + [1.1, 1.3] * 500, 0.1, -0.999),
        ([1000000.2] + [1000000.1, 1000000.3] * 500, 0.1, -0.999),
        ([10000000.2] + [10000000.1, 10000000.3] * 500, 0.1, -0.999),
    ],
)
def test_numeric_accuracy(values: list[float], deviation: float, lag_one: float) -> None:
    """NIST StRD NumAcc1 to 4, certified values (from memory): one-pass sums lose them."""
    assert sample_of(values).deviation == pytest.approx(deviation, rel=1e-7)
    assert autocorrelation(values) == pytest.approx(lag_one, rel=1e-6)


def test_repeats_that_drift_are_noticed() -> None:
    """Measured by others: lag-1 0.89, so 50 runs are worth about 3 (AR(1), 2.9)."""
    sample = sample_of(numbers(DRIFTING))
    assert sample.count == 50
    assert (sample.mean, sample.deviation) == pytest.approx((0.210264, 0.0114975), abs=2e-5)
    assert sample.lag_one == pytest.approx(0.8907, abs=5e-4)
    assert sample.hangs_together
    assert sample.effective == pytest.approx(2.9, abs=0.05)


def test_drift_makes_no_gain() -> None:
    """Its second half against its first: naive Welch is sure, the effective number is not."""
    halves = numbers(DRIFTING)[:25], numbers(DRIFTING)[25:]
    samples = [sample_of(half) for half in halves]
    naive = [Sample(s.count, s.mean, s.deviation, None, s.count) for s in samples]
    assert welch(*naive).p_value < 1e-9
    assert welch(*samples).p_value > 0.02


@given(
    st.lists(st.floats(90, 110), min_size=2, max_size=5),
    st.lists(st.floats(90, 110), min_size=2, max_size=5),
)
def test_welch_equals_scipy(one: list[float], other: list[float]) -> None:
    """Reference: scipy.stats.ttest_ind with unequal variances."""
    if np.std(one) < 1e-3 or np.std(other) < 1e-3:
        return
    found, expected = (
        welch(sample_of(one), sample_of(other)),
        stats.ttest_ind(other, one, equal_var=False),
    )
    assert found.t == pytest.approx(expected.statistic, rel=1e-7, abs=1e-9)
    assert found.freedom == pytest.approx(expected.df, rel=1e-7)
    assert found.p_value == pytest.approx(expected.pvalue, rel=1e-7)
    interval = expected.confidence_interval(0.95)
    assert found.interval() == pytest.approx((interval.low, interval.high), rel=1e-6, abs=1e-6)


@pytest.mark.parametrize(
    ("effect", "repeats"), [(0.5, 63.766), (1.0, 16.715), (2.0, 5.090), (3.0, 3.070)]
)
def test_repeats_to_settle(effect: float, repeats: float) -> None:
    """Reference: statsmodels TTestIndPower at 5 % and 80 %; the normal formula is too small."""
    assert repeats_to_settle(effect) == pytest.approx(repeats, abs=2e-3)


def test_repeats_without_end_and_at_once() -> None:
    """Next to no difference takes for ever, a huge one two runs a side."""
    assert repeats_to_settle(0.01) == math.inf
    assert repeats_to_settle(50) == 2


@pytest.mark.parametrize(("runs", "least"), [(5, 1.4584), (10, 0.9396)])
def test_least_significant_difference(runs: int, least: float) -> None:
    """A coefficient of variation of 1 %, by t quantiles; worked outside the code."""
    assert least_difference(1.0, runs, runs) == pytest.approx(least, abs=1e-4)


def test_the_share_of_false_gains_is_as_stated() -> None:
    """Two times 6 repeats of one setting: 5 % come out as a gain or a loss, within 1.5 %."""
    rng = np.random.default_rng(11)
    found = [
        welch(sample_of(rng.normal(0, 1, 6).tolist()), sample_of(rng.normal(0, 2, 6).tolist()))
        for _ in range(2000)
    ]
    assert np.mean([f.p_value < 0.05 for f in found]) == pytest.approx(0.05, abs=0.015)


def test_one_run_each_leans_on_other_repeats() -> None:
    """With a spread of 10 from 8 degrees of freedom, 30 points are 2.12 standard errors."""
    one, other = sample_of([1000.0]), sample_of([1030.0])
    found = from_known_spread(one, other, 10.0, 8)
    assert found.t == pytest.approx(30 / (10 * 2**0.5))
    assert found.p_value == pytest.approx(2 * stats.t.sf(30 / 200**0.5, 8))


def test_pooled_spread() -> None:
    """Within-group deviation of one-way analysis of variance: (1 + 1 + 8) / (1 + 2) squared."""
    samples = [sample_of(v) for v in ([1.0, 1 + 2**0.5], [5.0, 7.0, 9.0], [4.0])]
    pooled = pooled_deviation(samples)
    assert pooled is not None
    assert pooled == pytest.approx(((9 / 3) ** 0.5, 3))
    assert pooled_deviation([sample_of([4.0])]) is None


@pytest.mark.parametrize(
    ("name", "ratio"),
    [
        ("SiRstv", 1.18046237440255),
        ("AtmWtAg", 15.9467335677930),
        ("SmLs01", 21.0),
        ("SmLs04", 21.0),
    ],
)
def test_certified_analysis_of_variance(name: str, ratio: float) -> None:
    """NIST StRD, certified F to 9 digits. In SmLs04 six of thirteen digits are the same in all
    values, so 1e-8 is what doubles can do."""
    found = one_way(anova(name))
    assert found is not None
    assert found.ratio == pytest.approx(ratio, rel=1e-8)
    expected = stats.f.sf(ratio, found.between, found.within)
    assert found.p_value == pytest.approx(expected, rel=1e-5)


def test_analysis_of_variance_without_digits() -> None:
    """NIST StRD SmLs07, certified 21: with twelve of thirteen digits the same, scipy has 21.0008,
    and doubles that stand for the decimals can do no better."""
    found = one_way(anova("SmLs07"))
    assert found is not None
    assert found.ratio == pytest.approx(21, abs=1e-3)


def test_one_group_or_no_repeat_tells_nothing() -> None:
    """Nor do repeats that are all the same."""
    assert one_way([[1.0, 2.0]]) is None
    assert one_way([[1.0], [2.0]]) is None
    assert one_way([[1.0, 1.0], [2.0, 2.0]]) is None


def test_luck_alone() -> None:
    """One more run: Student's t with the spread of mean and run, by scipy."""
    sample = sample_of([100.0, 102.0, 98.0, 101.0])
    expected = stats.t.sf((104 - sample.mean) / (2 * (1 + 1 / 4) ** 0.5), 3)
    assert chance_to_reach(104, sample, 2.0, 3) == pytest.approx(expected)
    assert chance_to_reach(sample.mean, sample, 2.0, 3) == pytest.approx(0.5)


def test_what_cannot_be_compared_is_said() -> None:
    """A single run, and repeats that do not differ at all."""
    with pytest.raises(ValueError, match="two or more"):
        welch(sample_of([1.0]), sample_of([1.0, 2.0]))
    with pytest.raises(ValueError, match="spread is not known"):
        welch(sample_of([1.0, 1.0]), sample_of([2.0, 2.0]))
