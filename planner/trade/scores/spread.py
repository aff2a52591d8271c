"""How much repeats differ: their spread, repeats that hang together, groups that differ.

- Spread: the sample standard deviation, in two passes, because the one-pass sum of squares loses
  all digits of scores that differ in the last ones.
- Lag-1 autocorrelation r of repeats in the order in which they ran. Independent ones stay under
  1.96 / sqrt(n); above it they hang together (warm up, drift), and n of them tell no more than
  n (1 - r) / (1 + r) independent ones, if each hangs on the one before alone.
- Groups, as the runs of one boot: one-way analysis of variance, F = variance of the groups' means
  over that within them, whose chance is an incomplete beta function.

Sources: NIST/SEMATECH e-Handbook 1.3.5.12 (autocorrelation) and 7.4.3 (analysis of variance); Box
and Jenkins (the 1.96 / sqrt(n) band) and Bayley and Hammersley, J. R. Statist. Soc. Suppl. 8 (1946)
184 (effective number), from memory.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from planner.trade.beta import beta_cdf

_FEWEST_FOR_ORDER = 6
"""Repeats below which an autocorrelation says nothing."""


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


def one_way(groups: Sequence[Sequence[float]]) -> Groups | None:
    """Whether groups of repeats differ; None with one group, no repeat in any, or no spread."""
    first = next((value for group in groups for value in group), 0.0)
    # Digits that all values have in common would push those that differ out of the means.
    known = [[value - first for value in group] for group in groups if group]
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


def _effective(count: int, lag_one: float | None) -> float:
    if lag_one is None or lag_one <= 1.96 / math.sqrt(count):
        return float(count)
    return max(1.0, count * (1 - lag_one) / (1 + lag_one))
