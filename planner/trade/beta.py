"""The beta distribution's probability and quantile, without scipy.

The regularised incomplete beta function is the continued fraction

    I_x(a, b) = x^a (1 - x)^b / (a B(a, b)) / (1 + d_1 / (1 + d_2 / (1 + ...)))

for x below (a + 1) / (a + b + 2), and by symmetry 1 - I_(1-x)(b, a) above it, where it would
converge slowly. All symbols are pure numbers.

Sources: NIST Digital Library of Mathematical Functions, 8.17.4 (symmetry) and 8.17.22 (the
fraction and its d_n); the evaluation from the front is Lentz's, as modified by Thompson and
Barnett, J. Comput. Phys. 64 (1986) 490.
"""

import math

MAX_TERMS = 100_000
"""Far above what is needed: the number of terms grows as the root of the larger parameter."""

PRECISION = 1e-15
"""The fraction stops once a further term changes it by less than this share."""

SETTLED = 1e-10
"""Share of a quantile, or of what it lacks to 1, that the last of Newton's steps changes."""

LEAST_LOG_SLOPE = -600.0
"""Below it the cdf's slope is too near 0 to divide by."""
MOST_RISE = 700.0
"""The largest power of e that a step takes; the bracket ends are nearer."""

TINY = 1e-300
"""Stands in for a denominator that happens to be exactly zero."""


def beta_cdf(x: float, a: float, b: float) -> float:
    """Probability that a Beta(a, b) variable is at most `x`, within about 1e-11 of itself.

    Raises:
        ValueError: `x` outside [0, 1], or a parameter that is not positive.
    """
    if not 0 <= x <= 1:
        raise ValueError(f"x = {x}: expected a value from 0 to 1")
    _check_parameters(a, b)
    if x in (0, 1):
        return float(x)
    log_front = a * math.log(x) + b * math.log1p(-x) - _log_beta(a, b)
    if x < (a + 1) / (a + b + 2):
        return math.exp(log_front) / (a * _fraction(x, a, b))
    return 1 - math.exp(log_front) / (b * _fraction(1 - x, b, a))


def beta_quantile(probability: float, a: float, b: float) -> float:
    """The value that a Beta(a, b) variable stays at or below with this `probability`.

    Newton's steps within a bracket that shrinks with each, halved where a step would leave it.
    They end where one changes the value by less than `SETTLED` of its distance to 0 and to 1: the
    next would change it by about the square of that, or by less than numbers near it differ. Small
    quantiles are right relative to themselves.

    Raises:
        ValueError: `probability` not strictly between 0 and 1, or a parameter not positive.
    """
    if not 0 < probability < 1:
        raise ValueError(f"probability = {probability}: expected between 0 and 1, both excluded")
    _check_parameters(a, b)
    low, high = 0.0, 1.0
    x = a / (a + b)
    while low < x < high:
        below = beta_cdf(x, a, b)
        if below < probability:
            low = x
        else:
            high = x
        closer = _newton(x, below, probability, a, b)
        if not low < closer < high:
            x = (low + high) / 2
        elif abs(closer - x) <= max(SETTLED * min(x, 1 - x), math.ulp(x)):
            return closer
        else:
            x = closer
    return x


def _newton(x: float, below: float, probability: float, a: float, b: float) -> float:
    """One step for log(cdf) over log(x), which is nearly straight in the lower tail."""
    log_slope = a * math.log(x) + (b - 1) * math.log1p(-x) - _log_beta(a, b)
    if not below > 0 or log_slope < LEAST_LOG_SLOPE:
        return math.nan
    rise = (math.log(probability) - math.log(below)) * below * math.exp(-log_slope)
    return x * math.exp(min(rise, MOST_RISE))


def _check_parameters(a: float, b: float) -> None:
    if not (a > 0 and b > 0):
        raise ValueError(f"a = {a}, b = {b}: expected both above 0")


def _log_beta(a: float, b: float) -> float:
    return math.lgamma(a) + math.lgamma(b) - math.lgamma(a + b)


def _fraction(x: float, a: float, b: float) -> float:
    value = numerator = 1.0
    denominator = 0.0
    for m in range(MAX_TERMS // 2):
        # d_2m, of which there is none at first, and d_(2m + 1) of DLMF 8.17.22.
        even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m)) if m else None
        odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        for term in (odd,) if even is None else (even, odd):
            denominator = 1 / ((1 + term * denominator) or TINY)
            numerator = (1 + term / numerator) or TINY
            value *= numerator * denominator
            if abs(numerator * denominator - 1) < PRECISION:
                return value
    raise ArithmeticError(f"the beta fraction did not settle at x = {x}, a = {a}, b = {b}")
