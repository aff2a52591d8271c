"""Is a gain one: two settings compared, what luck alone reaches, how many repeats would settle it.

- Welch's test: two means against their own spreads, t = difference / sqrt(v1 / n1 + v2 / n2), with
  Satterthwaite's degrees of freedom. Runs that hang together count as so many as they are worth.
- Repeats that would settle it: the least n on each side with which a two-sided t-test at 5 %
  notices a true difference of d standard deviations four times in five.
- Luck: one more run lies about the mean of n with the deviation times sqrt(1 + 1 / n), by Student's
  t.

Sources: NIST/SEMATECH e-Handbook 1.3.5.3 (two samples); Welch, Biometrika 34 (1947) 28, and
Satterthwaite, Biometrics Bull. 2 (1946) 110, from memory.
"""

import math
from dataclasses import dataclass

from planner.trade.scores.spread import Sample
from planner.trade.student import t_quantile, two_sided, two_sided_power

_MOST = 10_000
"""More repeats than anybody makes."""


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
