"""Which rule made the totals, and with which weights: fitted from runs with all their sub-scores.

Each rule of `combined` is a straight line in its weights, f(T) = sum of w_i f(s_i); with weights
that add up to 1 one of them is given by the rest. They are found by least squares, each run weighed
by 1 / f'(T), which makes the misfit one of T in points. Rules are compared by the error with which
they predict each run from the others (leave-one-out cross-validation, Stone 1974): a rule that has
more freedom gains nothing by it. A total that was rounded cannot be predicted better than its
rounding allows, so errors below that floor count as equal.

Sources: Stone, J. R. Statist. Soc. B 36 (1974) 111; least squares: any textbook.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.domain.combining import Combining
from planner.trade.scores.combined import inverse, transformed

_TOLD_APART = 2.0
"""A rule whose error is so many times the best one's is ruled out."""
_MEANS = (Combining.HARMONIC, Combining.GEOMETRIC, Combining.ARITHMETIC)

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Fit:
    """One rule as fitted."""

    rule: Combining
    weights: Mapping[str, float]
    errors: Mapping[str, float]
    """Standard error of each weight; infinite where nothing tells it."""
    misfit: float
    """Root mean square of what the fit leaves, in points."""
    prediction: float
    """Root mean square error for runs left out of the fit, in points."""
    worst: float
    """The largest of those errors, in points."""


@dataclass(frozen=True, slots=True)
class Fitted:
    """The rules that the runs leave possible, the likeliest first."""

    fits: tuple[Fit, ...]
    runs: int
    told_apart: bool
    """Whether all but the first are ruled out."""

    @property
    def best(self) -> Fit:
        """The rule that predicts best."""
        return self.fits[0]


def runs_for_fit(parts: int) -> int:
    """Runs with all sub-scores that a fit needs: one to spare when one is left out."""
    return parts + 1


def fit_rule(
    totals: Sequence[float],
    parts: Sequence[Mapping[str, float]],
    rule: Combining | None = None,
) -> Fitted:
    """The rule and weights behind totals of runs with the same sub-scores; a known rule's weights.

    Raises:
        ValueError: fewer runs than a fit needs, sub-scores that differ in name, or values that are
            not positive; naming what was expected.
    """
    names = _names(totals, parts)
    if rule is not None:
        return Fitted((_fit(rule, names, totals, parts),), len(totals), True)
    floor = _rounding(totals) / math.sqrt(12)
    fits = [_fit(rule, names, totals, parts) for rule in _MEANS]
    ranked = sorted(fits, key=lambda fit: fit.prediction)
    if len(totals) > runs_for_fit(len(names)):
        free = _fit(Combining.SUM, names, totals, parts)
        # Near one point a sum with free weights follows any rule, so it must do much better.
        if _TOLD_APART * max(free.prediction, floor) < ranked[0].prediction:
            ranked.insert(0, free)
    best = max(ranked[0].prediction, floor)
    left = [fit for fit in ranked if fit.prediction <= _TOLD_APART * best]
    return Fitted(tuple(left), len(totals), len(left) == 1)


def _names(totals: Sequence[float], parts: Sequence[Mapping[str, float]]) -> tuple[str, ...]:
    if len(totals) != len(parts) or not parts:
        raise ValueError(f"{len(totals)} totals of {len(parts)} runs: expected one for each")
    names = tuple(parts[0])
    if len(names) < 2:
        raise ValueError(f"{len(names)} sub-scores: expected two or more")
    if any({*run} != {*names} for run in parts):
        raise ValueError("sub-scores are missing in some runs, expected the same in each")
    needed = runs_for_fit(len(names))
    if len(parts) < needed:
        raise ValueError(
            f"{len(parts)} runs with a total and all {len(names)} sub-scores: a fit needs {needed}"
        )
    if not all(0 < v < math.inf for run in parts for v in run.values()) or not min(totals) > 0:
        raise ValueError("a score that is not positive: expected positive numbers")
    return names


def _fit(
    rule: Combining,
    names: tuple[str, ...],
    totals: Sequence[float],
    parts: Sequence[Mapping[str, float]],
) -> Fit:
    images = np.array([[transformed(rule, run[n]) for n in names] for run in parts])
    goals = np.array([transformed(rule, value) for value in totals])
    scale = np.array([_points_per_image(rule, value) for value in totals])
    weights, spread = _least_squares(rule, images, goals, scale)
    left = _points(rule, images @ weights) - totals
    freedom = max(len(totals) - (len(names) - (rule is not Combining.SUM)), 1)
    noise = math.sqrt(float(left @ left) / freedom)
    out = np.array([_left_out(rule, images, goals, scale, i, totals[i]) for i in range(len(goals))])
    return Fit(
        rule=rule,
        weights=dict(zip(names, map(float, weights), strict=True)),
        errors={
            n: noise * float(s) if s < math.inf else math.inf
            for n, s in zip(names, spread, strict=True)
        },
        misfit=math.sqrt(float(left @ left) / len(totals)),
        prediction=math.sqrt(float(out @ out) / len(out)),
        worst=float(np.abs(out).max()),
    )


def _left_out(
    rule: Combining, images: Array, goals: Array, scale: Array, place: int, total: float
) -> float:
    kept = np.arange(len(goals)) != place
    weights, _ = _least_squares(rule, images[kept], goals[kept], scale[kept])
    return float(_points(rule, images[place : place + 1] @ weights)[0] - total)


def _least_squares(
    rule: Combining, images: Array, goals: Array, scale: Array
) -> tuple[Array, Array]:
    """Weights, and their standard errors for a noise of one point, shape (k,) each."""
    count = images.shape[1]
    # Weights are base + shape @ free, so that those of a mean add up to 1 whatever `free` is.
    free = count if rule is Combining.SUM else count - 1
    base, shape = np.zeros(count), np.eye(count)[:, :free]
    if rule is not Combining.SUM:
        base[-1], shape[-1] = 1.0, -1.0
    design = (images @ shape) * scale[:, None]
    goal = (goals - images @ base) * scale
    sizes = np.linalg.norm(design, axis=0)
    sizes[sizes == 0] = 1.0
    solved, _, rank, _ = np.linalg.lstsq(design / sizes, goal, rcond=1e-12)
    weights = base + shape @ (solved / sizes)
    if rank < free:
        return weights, np.full(count, math.inf)
    covariance = np.linalg.inv((design / sizes).T @ (design / sizes)) / np.outer(sizes, sizes)
    return weights, np.sqrt(np.maximum(np.diag(shape @ covariance @ shape.T), 0.0))


def _points_per_image(rule: Combining, value: float) -> float:
    """|dT / df| at a total."""
    if rule is Combining.GEOMETRIC:
        return value
    return value**2 if rule is Combining.HARMONIC else 1.0


def _points(rule: Combining, images: Array) -> Array:
    """The totals whose f these are; infinite where none has it."""
    if rule is Combining.HARMONIC:
        return np.array([inverse(rule, v) if v > 0 else math.inf for v in images.tolist()])
    if rule is Combining.GEOMETRIC:
        return np.asarray(np.exp(np.minimum(images, 700.0)))
    return images


def _rounding(totals: Sequence[float]) -> float:
    """The unit to which the totals were rounded: 1, a tenth, a hundredth ... down to 1e-6."""
    return next(
        (u for u in (1.0, 0.1, 0.01, 1e-3, 1e-4, 1e-5) if all(_whole(v / u) for v in totals)), 1e-6
    )


def _whole(value: float) -> bool:
    return bool(abs(value - round(value)) <= 1e-6 * max(1.0, abs(value)) ** 0.5)
