"""How many runs a claim of stability needs, and what the runs made so far support.

A run at one setting passes with probability R (its reliability), independently of the others.
Confidence C is the chance, over repeated campaigns, that the claim "at least R" is made only
when it is true. All of them are pure numbers between 0 and 1.

- Success run: n passes without a failure show R with confidence C once R^n <= 1 - C.
- With f failures allowed: once P(at most f failures in n runs at R) <= 1 - C.
  f is fixed before the first run: allowing one more whenever one happens is another plan, whose
  claims at R = C = 0.9 are false with probability 0.20 instead of 0.10 (f up to 3, 65 runs).
- Clopper-Pearson: the interval whose ends make the observed count just improbable enough in
  each tail; it never covers less than it promises.

Sources: Wilks, Ann. Math. Statist. 12 (1941) 91 (runs needed with failures allowed; success
run is f = 0); Clopper and Pearson, Biometrika 26 (1934) 404.
"""

import math
from bisect import bisect_left

from planner.trade.beta import beta_cdf, beta_quantile

SLACK = 1e-9
"""Share by which 1 - C may be missed, so that rounding never costs a run: 0.9^2 is 1 - 0.19."""


def success_run(reliability: float, confidence: float) -> int:
    """Passes in a row, none failed, that show `reliability` with `confidence`; at least 1.

    Raises:
        ValueError: either argument not strictly between 0 and 1.
    """
    _check_fraction("reliability", reliability)
    _check_fraction("confidence", confidence)
    allowed = math.log1p(-confidence) + SLACK
    return max(1, math.ceil(allowed / math.log(reliability)))


def runs_needed(reliability: float, confidence: float, failures: int = 0) -> int:
    """Runs that show `reliability` with `confidence` although up to `failures` of them failed.

    How many may fail is decided before the first run, else the confidence is less than stated.

    Raises:
        ValueError: a probability not strictly between 0 and 1, or failures below 0.
    """
    least = success_run(reliability, confidence)
    if failures < 0:
        raise ValueError(f"failures = {failures}: expected 0 or more")
    if failures == 0:
        return least
    allowed = (1 - confidence) * (1 + SLACK)

    def enough(runs: int) -> bool:
        return beta_cdf(reliability, runs - failures, failures + 1) <= allowed

    low = high = max(least, failures + 1)
    while not enough(high):
        high *= 2
    return low + bisect_left(range(low, high), True, key=enough)


def clopper_pearson(failures: int, runs: int, confidence: float = 0.9) -> tuple[float, float]:
    """Exact two-sided interval of the failure probability; (0, 1) while nothing was run.

    Raises:
        ValueError: confidence not strictly between 0 and 1, or failures not in 0..runs.
    """
    _check_count("failures", failures, runs)
    _check_fraction("confidence", confidence)
    tail = (1 - confidence) / 2
    return _lower(failures, runs, tail), 1 - _lower(runs - failures, runs, tail)


def lower_bound(passes: int, runs: int, confidence: float) -> float:
    """Pass probability that the runs show at least, one-sided and exact; 0 without a pass.

    Raises:
        ValueError: confidence not strictly between 0 and 1, or passes not in 0..runs.
    """
    _check_count("passes", passes, runs)
    _check_fraction("confidence", confidence)
    return _lower(passes, runs, 1 - confidence)


def _lower(count: int, runs: int, tail: float) -> float:
    """Probability at which `count` or more in `runs` would be seen with chance `tail`."""
    if count == 0:
        return 0.0
    return beta_quantile(tail, count, runs - count + 1)


def _check_fraction(name: str, value: float) -> None:
    if not 0 < value < 1:
        raise ValueError(f"{name} = {value}: expected between 0 and 1, both excluded")


def _check_count(name: str, count: int, runs: int) -> None:
    if not 0 <= count <= runs:
        raise ValueError(f"{name} = {count} of {runs} runs: expected from 0 to the number of runs")
