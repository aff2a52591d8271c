"""The gamma distribution's probability, the Poisson's and the chi-square's, without scipy.

P(a, x), the regularised lower incomplete gamma function, is the series

    P(a, x) = x^a e^-x / Gamma(a + 1) (1 + x / (a + 1) + x^2 / ((a + 1)(a + 2)) + ...)

for x below a + 1, and one minus a continued fraction above it. A Poisson count of mean m reaches r
with probability P(r, m); a chi-square variable with n degrees of freedom stays at or below c with
P(n / 2, c / 2). All symbols are pure numbers.

Sources: NIST Digital Library of Mathematical Functions, 8.7.1 with 8.2.4 (the series), 8.9.2
(the fraction, here in its even form), 8.4.10 (Poisson); the fraction's evaluation is Lentz's, as
modified by Thompson and Barnett, J. Comput. Phys. 64 (1986) 490.
"""

import math
from itertools import count, islice

MAX_TERMS = 100_000
PRECISION = 1e-16
TINY = 1e-300
"""Stands in for a denominator that happens to be exactly zero."""


def gamma_cdf(a: float, x: float) -> float:
    """P(a, x): probability that a gamma variable of shape `a` is at most `x`.

    Raises:
        ValueError: `a` not above 0, or `x` below 0.
    """
    if not (a > 0 and x >= 0):
        raise ValueError(f"a = {a}, x = {x}: expected a above 0 and x from 0")
    if x == 0:
        return 0.0
    log_front = a * math.log(x) - x
    if x < a + 1:
        return min(1.0, math.exp(log_front - math.lgamma(a + 1)) * _series(a, x))
    return max(0.0, 1 - math.exp(log_front - math.lgamma(a)) * _fraction(a, x))


def poisson_at_least(least: int, mean: float) -> float:
    """Probability that a Poisson count of this mean is `least` or more."""
    return 1.0 if least <= 0 else gamma_cdf(least, mean)


def chi_square_quantile(probability: float, freedom: float) -> float:
    """The value that chi-square stays at or below with this `probability`.

    Raises:
        ValueError: `probability` not strictly between 0 and 1, or `freedom` not above 0.
    """
    if not 0 < probability < 1:
        raise ValueError(f"probability = {probability}: expected between 0 and 1, both excluded")
    low, high = 0.0, max(freedom, 1.0)
    while gamma_cdf(freedom / 2, high / 2) < probability:
        low, high = high, high * 2
    while low < (middle := (low + high) / 2) < high:
        if gamma_cdf(freedom / 2, middle / 2) < probability:
            low = middle
        else:
            high = middle
    return middle


def _series(a: float, x: float) -> float:
    term = total = 1.0
    for n in islice(count(1), MAX_TERMS):
        term *= x / (a + n)
        total += term
        if term < total * PRECISION:
            return total
    raise ArithmeticError(f"the gamma series did not settle at a = {a}, x = {x}")


def _fraction(a: float, x: float) -> float:
    """Gamma(a, x) e^x x^-a."""
    b = x + 1 - a
    numerator, denominator = 1 / TINY, 1 / (b or TINY)
    value = denominator
    for n in islice(count(1), MAX_TERMS):
        term = -n * (n - a)
        b += 2
        denominator = 1 / ((term * denominator + b) or TINY)
        numerator = (b + term / numerator) or TINY
        value *= numerator * denominator
        if abs(numerator * denominator - 1) < 1e-15:
            return value
    raise ArithmeticError(f"the gamma fraction did not settle at a = {a}, x = {x}")
