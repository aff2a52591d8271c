"""Hours between failures, from hours run and failures counted.

Failures that strike at a constant rate in T hours number r with a Poisson distribution of mean T
over the mean time between failures. With confidence C that mean time is at least

    2 T / chi2(C; 2 r + 2)        which for r = 0 is T / -ln(1 - C),

chi2(q; n) being the chi-square quantile; two-sided bounds take (1 + C) / 2 here and
2 T / chi2((1 - C) / 2; 2 r) above, open where nothing failed. To show a mean time m takes
m chi2(C; 2 r + 2) / 2 hours with r failures allowed, fixed beforehand. Hours and mean time share
one unit. The clock must have been stopped by the calendar, not by a failure.

A constant rate is an assumption: a machine that fails while it warms up, or only after some cold
boots, has another one in each, which is why the hours should be spread over several.

Sources: NIST/SEMATECH e-Handbook of Statistical Methods, 8.3.1.1 (test length), 8.4.5.1 (bounds);
Epstein and Sobel, J. Amer. Statist. Assoc. 48 (1953) 486; MIL-HDBK-781A (risks of fixed plans).
"""

import math

from planner.trade.gamma import chi_square_quantile, poisson_at_least


def least_mean_time(hours: float, failures: int, confidence: float) -> float:
    """Mean time between failures that the hours show at least, one-sided; 0 without hours."""
    _check(hours, failures, confidence)
    return hours / hours_factor(failures, confidence)


def mean_time_bounds(hours: float, failures: int, confidence: float) -> tuple[float, float]:
    """Two-sided bounds of the mean time between failures; the upper one may be infinite."""
    _check(hours, failures, confidence)
    low = least_mean_time(hours, failures, (1 + confidence) / 2)
    if not failures:
        return low, math.inf
    return low, 2 * hours / chi_square_quantile((1 - confidence) / 2, 2 * failures)


def hours_factor(failures: int, confidence: float) -> float:
    """Hours to run, in units of the mean time to be shown, with so many failures allowed."""
    _check(0.0, failures, confidence)
    if failures == 0:
        return -math.log1p(-confidence)
    return chi_square_quantile(confidence, 2 * failures + 2) / 2


def plan_risks(length: float, ratio: float, rejects: int) -> tuple[float, float]:
    """Risks of a plan that runs `length` lower mean times and rejects from so many failures.

    First that it rejects a mean time of `ratio` lower ones, then that it accepts the lower one.
    """
    if not (length > 0 and ratio > 1 and rejects >= 1):
        raise ValueError(
            f"length = {length}, ratio = {ratio}, rejects = {rejects}: expected above 0, above 1,"
            " from 1"
        )
    return poisson_at_least(rejects, length / ratio), 1 - poisson_at_least(rejects, length)


def _check(hours: float, failures: int, confidence: float) -> None:
    if not (hours >= 0 and failures >= 0 and 0 < confidence < 1):
        raise ValueError(
            f"hours = {hours}, failures = {failures}, confidence = {confidence}: expected from 0,"
            " from 0, between 0 and 1"
        )
