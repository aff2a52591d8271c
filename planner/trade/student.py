"""Student's t, central and shifted, without scipy.

With n degrees of freedom, |T| >= t has the probability I_x(n/2, 1/2) at x = n / (n + t^2). A
shifted T is (Z + d) / S with Z standard normal and S^2 a chi-square over its degrees of freedom,
so that P(T > c) = E[Phi(d - c S)], integrated here over S by Simpson's rule.

Sources: NIST Digital Library of Mathematical Functions, 8.17 (the incomplete beta function);
Johnson, Kotz and Balakrishnan, Continuous Univariate Distributions 2 (1995), ch. 28 and 31, from
memory.
"""

import math
from statistics import NormalDist

from planner.trade.beta import beta_cdf, beta_quantile

_NODES = 400
"""Intervals of Simpson's rule."""
_NORMAL = NormalDist()


def two_sided(t: float, freedom: float) -> float:
    """Probability that |T| is at least |t|."""
    return beta_cdf(freedom / (freedom + t * t), freedom / 2, 0.5)


def t_cdf(t: float, freedom: float) -> float:
    """Probability that T is at most `t`."""
    tail = two_sided(t, freedom) / 2
    return 1 - tail if t > 0 else tail


def t_quantile(probability: float, freedom: float) -> float:
    """The value that T stays at or below with this `probability`.

    Raises:
        ValueError: `probability` not strictly between 0 and 1, or `freedom` not above 0.
    """
    if not 0 < probability < 1:
        raise ValueError(f"probability = {probability}: expected between 0 and 1, both excluded")
    if probability == 0.5:
        return 0.0
    x = beta_quantile(2 * min(probability, 1 - probability), freedom / 2, 0.5)
    size = math.sqrt(freedom * (1 - x) / x)
    return size if probability > 0.5 else -size


def two_sided_power(shift: float, freedom: float, level: float = 0.05) -> float:
    """Probability that |T|, shifted by `shift`, passes the two-sided limit of `level`."""
    limit = t_quantile(1 - level / 2, freedom)
    half = 12 / math.sqrt(2 * freedom)
    low, high = math.sqrt(max(0.0, 1 - half)), math.sqrt(1 + half)
    width = (high - low) / _NODES

    def at(place: int) -> float:
        root = low + place * width  # S = root^2: smooth also where few degrees of freedom are not
        s = root * root
        passed = _NORMAL.cdf(shift - limit * s) + _NORMAL.cdf(-shift - limit * s)
        return 2 * root * passed * _scale_density(s, freedom)

    odd = sum(at(place) for place in range(1, _NODES, 2))
    even = sum(at(place) for place in range(2, _NODES, 2))
    return min(1.0, width / 3 * (at(0) + 4 * odd + 2 * even + at(_NODES)))


def _scale_density(s: float, freedom: float) -> float:
    """Density of S."""
    if s <= 0:
        return 0.0
    half = freedom / 2
    log = half * math.log(half) - math.lgamma(half) + (freedom - 1) * math.log(s) - half * s * s
    return 2 * math.exp(log)
