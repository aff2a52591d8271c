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

TINY = 1e-300
"""Stands in for a denominator that happens to be exactly zero."""


def beta_cdf(x: float, a: float, b: float) -> float:
    """Probability that a Beta(a, b) variable is at most `x`, within about 1e-11 of itself.

    Raises:
        ValueError: `x` outside [0, 1], or a parameter that is not positive.
    """
    if not 0 <= x <= 1:
        raise ValueError(f"x = {x}: expected a value from 0 to 1")
    if not (a > 0 and b > 0):
        raise ValueError(f"a = {a}, b = {b}: expected both above 0")
    if x in (0, 1):
        return float(x)
    log_front = a * math.log(x) + b * math.log1p(-x) - _log_beta(a, b)
    if x < (a + 1) / (a + b + 2):
        return math.exp(log_front) / (a * _fraction(x, a, b))
    return 1 - math.exp(log_front) / (b * _fraction(1 - x, b, a))


def beta_quantile(probability: float, a: float, b: float) -> float:
    """The value that a Beta(a, b) variable stays at or below with this `probability`.

    Halving is kept up until no number lies between the two ends, because small quantiles must
    be right relative to themselves.

    Raises:
        ValueError: `probability` not strictly between 0 and 1, or a parameter not positive.
    """
    if not 0 < probability < 1:
        raise ValueError(f"probability = {probability}: expected between 0 and 1, both excluded")
    low, high = 0.0, 1.0
    while low < (middle := (low + high) / 2) < high:
        if beta_cdf(middle, a, b) < probability:
            low = middle
        else:
            high = middle
    return middle


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
