"""A straight line through few readings, with what is known beforehand, and honest about outliers.

y = X b + noise. Beforehand b is normal with mean b0 and standard deviations of its own, and the
noise has the size s0 as if seen `PRIOR_RUNS` times (normal-inverse-gamma); a further reading at x
then has Student's t distribution with n + PRIOR_RUNS degrees of freedom,

    mean x b,   variance s^2 (1 + x V x'),   V = (V0^-1 + X' W X)^-1.

Each reading weighs W = (HEAVY + 1) / (HEAVY + z^2) with z its miss in noises, at most 1, found by
repeating the fit (Student's t likelihood by expectation and maximisation), so that a slip of the
pen bends nothing. Without numpy: the matrices are no larger than the groups of knobs are many.

Sources: Gelman et al., Bayesian Data Analysis, ch. 14 (the conjugate line); Lange, Little and
Taylor, J. Amer. Statist. Assoc. 84 (1989) 881 (the weights); from memory both.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

Matrix = list[list[float]]
PRIOR_RUNS = 3.0
HEAVY = 4.0
"""Degrees of freedom of the noise: how often readings are far off."""
_ROUNDS = 8


@dataclass(frozen=True, slots=True)
class Prior:
    """What is known before the first reading."""

    means: tuple[float, ...]
    deviations: tuple[float, ...]
    noise: float


@dataclass(frozen=True, slots=True)
class Line:
    """The line after the readings."""

    means: tuple[float, ...]
    covariance: Matrix
    """V: times the noise's variance it is that of the coefficients, shape (k, k)."""
    noise: float
    """Standard deviation of one reading."""
    freedom: float

    def at(self, row: Sequence[float]) -> tuple[float, float]:
        """Mean of a further reading and its standard deviation, for `freedom`."""
        mean = sum(x * b for x, b in zip(row, self.means, strict=True))
        inner = sum(
            row[i] * value * row[j]
            for i, values in enumerate(self.covariance)
            for j, value in enumerate(values)
        )
        return mean, self.noise * sqrt(1 + inner)


def line_through(rows: Sequence[Sequence[float]], values: Sequence[float], prior: Prior) -> Line:
    """The line through readings, shape (n, k) and (n,)."""
    middle = sorted(v - _dot(row, prior.means) for row, v in zip(rows, values, strict=True))
    shift = middle[len(middle) // 2]
    misses = [v - _dot(row, prior.means) - shift for row, v in zip(rows, values, strict=True)]
    spread = max(prior.noise, 1.5 * sorted(map(abs, misses))[len(misses) // 2])
    line = Line(prior.means, [], spread, PRIOR_RUNS)
    for _ in range(_ROUNDS):
        weights = [min(1.0, (HEAVY + 1) / (HEAVY + (m / line.noise) ** 2)) for m in misses]
        line = _weighted(rows, values, weights, prior)
        misses = [v - _dot(row, line.means) for row, v in zip(rows, values, strict=True)]
    return line


def _weighted(
    rows: Sequence[Sequence[float]],
    values: Sequence[float],
    weights: Sequence[float],
    prior: Prior,
) -> Line:
    count = len(prior.means)
    before = [(prior.noise / sd) ** 2 for sd in prior.deviations]
    precision = [[before[i] if i == j else 0.0 for j in range(count)] for i in range(count)]
    right = [before[i] * prior.means[i] for i in range(count)]
    for row, value, weight in zip(rows, values, weights, strict=True):
        for i in range(count):
            right[i] += weight * row[i] * value
            for j in range(count):
                precision[i][j] += weight * row[i] * row[j]
    covariance = _inverse(precision)
    means = tuple(_dot(covariance[i], right) for i in range(count))
    squares = PRIOR_RUNS * prior.noise**2
    squares += sum(
        w * (v - _dot(row, means)) ** 2 for row, v, w in zip(rows, values, weights, strict=True)
    )
    squares += sum(p * (m - m0) ** 2 for p, m, m0 in zip(before, means, prior.means, strict=True))
    freedom = PRIOR_RUNS + sum(weights)
    return Line(means, covariance, sqrt(squares / freedom), freedom)


def _dot(one: Sequence[float], other: Sequence[float]) -> float:
    return sum(a * b for a, b in zip(one, other, strict=True))


def _inverse(matrix: Matrix) -> Matrix:
    """By Gauss-Jordan elimination; the prior keeps the matrix positive definite."""
    size = len(matrix)
    rows = [[*row, *(float(i == j) for j in range(size))] for i, row in enumerate(matrix)]
    for place in range(size):
        pivot = max(range(place, size), key=lambda i: abs(rows[i][place]))
        rows[place], rows[pivot] = rows[pivot], rows[place]
        head = rows[place][place]
        rows[place] = [value / head for value in rows[place]]
        for other in range(size):
            if other != place and (factor := rows[other][place]):
                rows[other] = [
                    v - factor * p for v, p in zip(rows[other], rows[place], strict=True)
                ]
    return [row[size:] for row in rows]
