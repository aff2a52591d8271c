"""Is a gain one: spread of repeats, runs that hang together, two settings compared.

- Spread: the sample standard deviation, in two passes, because the one-pass sum of squares loses
  all digits of scores that differ in the last ones.
- Lag-1 autocorrelation r of repeats in the order in which they ran. Independent ones stay under
  1.96 / sqrt(n); above it they hang together (warm up, drift), and n of them tell no more than
  n (1 - r) / (1 + r) independent ones, if each hangs on the one before alone.
- Welch's test: two means against their own spreads, t = difference / sqrt(v1 / n1 + v2 / n2), with
  Satterthwaite's degrees of freedom. Runs that hang together count as so many as they are worth.
- Groups, as the runs of one boot: one-way analysis of variance, F = variance of the groups' means
  over that within them, whose chance is an incomplete beta function.
- Repeats that would settle it: the least n on each side with which a two-sided t-test at 5 %
  notices a true difference of d standard deviations four times in five.

Sources: NIST/SEMATECH e-Handbook 1.3.5.3 (two samples) and 1.3.5.12 (autocorrelation); Welch,
Biometrika 34 (1947) 28; Satterthwaite, Biometrics Bull. 2 (1946) 110; effective number: Bayley and
Hammersley, J. R. Statist. Soc. Suppl. 8 (1946) 184; Box and Jenkins (the 1.96 / sqrt(n) band); from
memory all but the handbook.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from planner.trade.beta import beta_cdf
from planner.trade.student import t_quantile, two_sided, two_sided_power

_FEWEST_FOR_ORDER = 6
"""Repeats below which an autocorrelation says nothing."""
_MOST = 10_000
"""More repeats than anybody makes."""


@dataclass(frozen=True, slots=True)
class Sample:
    """Repeats of one measurement, in the order in which they ran."""

    count: int
    mean: float
    deviation: float | None
    """Sample standard deviation; None: fewer than two."""
    lag_one: float | None
    """Autocorrelation of neighbours; None: too few repeats, or none differs."""
    effective: float
    """Independent repeats that they are worth."""

    @property
    def hangs_together(self) -> bool:
        """Whether neighbours are more alike than independent repeats would be."""
        return self.effective < self.count


@dataclass(frozen=True, slots=True)
class Difference:
    """Two samples compared by Welch's test."""

    gain: float
    """Second mean less the first."""
    error: float
    """Its standard error."""
    freedom: float
    p_value: float
    """Chance of so large a difference, either way, were there none."""

    @property
    def t(self) -> float:
        """Difference in standard errors."""
        return self.gain / self.error

    def interval(self, level: float = 0.95) -> tuple[float, float]:
        """Within which the true difference lies with this confidence."""
        half = t_quantile((1 + level) / 2, self.freedom) * self.error
        return self.gain - half, self.gain + half


@dataclass(frozen=True, slots=True)
class Groups:
    """Groups of repeats compared by one-way analysis of variance."""

    ratio: float
    """F."""
    between: int
    within: int
    """Degrees of freedom."""
    p_value: float
    """Chance of so large a ratio were there no difference."""


def sample_of(values: Sequence[float]) -> Sample:
    """What repeats show of a measurement, in the order in which they ran.

    Raises:
        ValueError: none is given.
    """
    if not values:
        raise ValueError("no values: expected one or more")
    count, mean = len(values), math.fsum(values) / len(values)
    if count < 2:
        return Sample(count, mean, None, None, float(count))
    squares = math.fsum((v - mean) ** 2 for v in values)
    deviation = math.sqrt(squares / (count - 1))
    lag_one = autocorrelation(values) if count >= _FEWEST_FOR_ORDER and squares else None
    return Sample(count, mean, deviation, lag_one, _effective(count, lag_one))


def autocorrelation(values: Sequence[float]) -> float:
    """Lag-1 autocorrelation.

    Raises:
        ValueError: fewer than two values, or none differs.
    """
    mean = math.fsum(values) / max(len(values), 1)
    away = [value - mean for value in values]
    squares = math.fsum(a * a for a in away)
    if len(values) < 2 or not squares:
        raise ValueError("autocorrelation: expected two or more values that differ")
    return math.fsum(a * b for a, b in pairwise(away)) / squares


def welch(first: Sample, second: Sample) -> Difference:
    """The second sample against the first.

    Raises:
        ValueError: a sample of one, or neither of them spreads.
    """
    variances = []
    for sample in (first, second):
        if sample.deviation is None:
            raise ValueError("a single run has no spread: expected two or more on each side")
        variances.append(sample.deviation**2 / sample.effective)
    error = math.sqrt(sum(variances))
    if not error:
        raise ValueError("no run differs from the others of its side: the spread is not known")
    shares = zip(variances, (first, second), strict=True)
    freedom = error**4 / sum(v**2 / max(s.effective - 1, 0.5) for v, s in shares)
    gain = second.mean - first.mean
    return Difference(gain, error, freedom, two_sided(gain / error, freedom))


def from_known_spread(
    first: Sample, second: Sample, deviation: float, freedom: float
) -> Difference:
    """The same where the spread is known from other settings' repeats."""
    error = deviation * math.sqrt(1 / first.effective + 1 / second.effective)
    gain = second.mean - first.mean
    return Difference(gain, error, freedom, two_sided(gain / error, freedom))


def one_way(groups: Sequence[Sequence[float]]) -> Groups | None:
    """Whether groups of repeats differ; None with one group, no repeat in any, or no spread."""
    known = [group for group in groups if group]
    count = sum(map(len, known))
    between, within = len(known) - 1, count - len(known)
    if between < 1 or within < 1:
        return None
    means = [math.fsum(group) / len(group) for group in known]
    grand = math.fsum(v for group in known for v in group) / count
    outer = math.fsum(len(g) * (m - grand) ** 2 for g, m in zip(known, means, strict=True))
    inner = math.fsum((v - m) ** 2 for g, m in zip(known, means, strict=True) for v in g)
    if not inner:
        return None
    ratio = outer / between / (inner / within)
    chance = beta_cdf(within / (within + between * ratio), within / 2, between / 2)
    return Groups(ratio, between, within, chance)


def repeats_to_settle(effect: float, level: float = 0.05, power: float = 0.8) -> float:
    """Repeats on each side that notice a difference of `effect` deviations; round up.

    Infinite where more than ten thousand would be needed.

    Raises:
        ValueError: an effect that is not above 0.
    """
    if not effect > 0:
        raise ValueError(f"effect = {effect}: expected above 0")

    def noticed(runs: float) -> float:
        return two_sided_power(effect * math.sqrt(runs / 2), 2 * runs - 2, level)

    low = high = 2.0
    if noticed(low) >= power:
        return low
    while noticed(high) < power:
        low, high = high, high * 2
        if high > _MOST:
            return math.inf
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if noticed(middle) < power else (low, middle)
    return high


def least_difference(deviation: float, first: int, second: int, level: float = 0.05) -> float:
    """The smallest difference of two means that the runs tell from none."""
    freedom = first + second - 2
    return t_quantile(1 - level / 2, freedom) * deviation * math.sqrt(1 / first + 1 / second)


def chance_to_reach(target: float, sample: Sample, deviation: float, freedom: float) -> float:
    """Chance that one more run of the same setting comes to `target` or more, by luck alone."""
    error = deviation * math.sqrt(1 + 1 / sample.effective)
    t = (target - sample.mean) / error
    tail = two_sided(t, freedom) / 2
    return tail if t > 0 else 1 - tail


def pooled_deviation(samples: Sequence[Sample]) -> tuple[float, int] | None:
    """The spread that several settings' repeats share, and its degrees of freedom; None: unknown.

    Repeats of each setting are taken about their own mean; those that hang together count for as
    many as they are worth.
    """
    known = [(s, s.deviation) for s in samples if s.deviation is not None]
    squares = math.fsum((s.count - 1) * deviation**2 for s, deviation in known)
    if not squares:
        return None
    freedom = max(1, round(sum(s.effective - 1 for s, _ in known)))
    return math.sqrt(squares / sum(s.count - 1 for s, _ in known)), freedom


def _effective(count: int, lag_one: float | None) -> float:
    if lag_one is None or lag_one <= 1.96 / math.sqrt(count):
        return float(count)
    return max(1.0, count * (1 - lag_one) / (1 + lag_one))
