"""Whether repeats wandered off as the evening went on, and since when.

- Exponentially weighted mean: z_0 = target, z_i = w x_i + (1 - w) z_(i-1). Repeats that only
  scatter, with standard deviation s, keep z within target +/- 3 s sqrt(w / (2 - w)); NIST/SEMATECH
  e-Handbook 6.3.2.4.
- The split into two levels that leaves the least sum of squares says since when (Cobb, Biometrika
  65 (1978) 243, from memory); the sum of what lies over the mean peaks there.

The spread comes from successive differences, mean |x_i - x_(i-1)| / 1.128, which a shift hardly
widens (e-Handbook 6.3.2.2). Values are in the order of the runs.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import sqrt

SHARE = 0.3
"""Weight of the newest value."""
_SIGMAS = 3.0
_RANGE = 1.128
"""Mean distance of two normal values, in standard deviations."""
FEWEST = 8
"""Repeats below which drift is not looked for."""


@dataclass(frozen=True, slots=True)
class Shift:
    """Two levels, one after the other."""

    first: int
    """How many values belong to the earlier one."""
    before: float
    after: float
    """Means of both."""


def weighted_means(values: Sequence[float], target: float, share: float = SHARE) -> list[float]:
    """The target, then the exponentially weighted mean after each value."""
    found = [target]
    for value in values:
        found.append(share * value + (1 - share) * found[-1])
    return found


def weighted_limit(deviation: float, share: float = SHARE) -> float:
    """How far those means stray from the target while values only scatter."""
    return _SIGMAS * deviation * sqrt(share / (2 - share))


def best_split(values: Sequence[float]) -> Shift:
    """The two levels of least squares.

    Raises:
        ValueError: fewer than two values.
    """
    if len(values) < 2:
        raise ValueError(f"{len(values)} values: expected two or more")
    total, mean = 0.0, sum(values) / len(values)
    best, first = -1.0, 1
    for place, value in enumerate(values[:-1], 1):
        total += value - mean
        explained = total * total / (place * (len(values) - place))
        if explained > best:
            best, first = explained, place
    early, late = values[:first], values[first:]
    return Shift(first, sum(early) / len(early), sum(late) / len(late))


def drift(values: Sequence[float]) -> Shift | None:
    """The shift of values that should scatter about one mean; None: none is seen, or too few."""
    if len(values) < FEWEST:
        return None
    steps = [abs(later - earlier) for earlier, later in pairwise(values)]
    limit = weighted_limit(sum(steps) / len(steps) / _RANGE)
    mean = sum(values) / len(values)
    strayed = max(abs(z - mean) for z in weighted_means(values, mean))
    return best_split(values) if strayed > limit > 0 else None
