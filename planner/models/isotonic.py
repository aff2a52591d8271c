"""Failure rate along hardness without a model: only "harder never fails less" is assumed.

The isotonic regression minimises sum w_i (fit_i - y_i)^2 over nondecreasing fits. Pooling
neighbours that are out of order into their weighted mean, until none is, gives it exactly.
With y = failures / runs and w = runs it is also the maximum-likelihood failure probability.

Sources: Ayer, Brunk, Ewing, Reid and Silverman, Ann. Math. Statist. 26 (1955) 641; Barlow,
Bartholomew, Bremner and Brunk, Statistical Inference under Order Restrictions (1972).
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def pool_adjacent_violators(values: ArrayLike, weights: ArrayLike) -> NDArray[np.float64]:
    """Nondecreasing weighted least-squares fit, shape (n,), in the unit of `values`.

    Args:
        values: shape (n,), in the order along which the fit must not fall.
        weights: shape (n,), each above 0.

    Raises:
        ValueError: shapes differ or are not (n,), a value not finite, a weight not positive.
    """
    y = np.asarray(values, dtype=np.float64)  # (n,)
    w = np.asarray(weights, dtype=np.float64)  # (n,)
    if y.ndim != 1 or y.shape != w.shape:
        raise ValueError(f"values {y.shape} and weights {w.shape}: expected one shape (n,)")
    if not (np.isfinite(y).all() and np.isfinite(w).all() and (w > 0).all()):
        raise ValueError("expected finite values and finite weights above 0")
    blocks: list[tuple[float, float, int]] = []  # mean, weight, members
    for mean, weight in zip(y.tolist(), w.tolist(), strict=True):
        members = 1
        while blocks and blocks[-1][0] >= mean:
            left, left_weight, left_members = blocks.pop()
            mean = (left * left_weight + mean * weight) / (left_weight + weight)
            weight += left_weight
            members += left_members
        blocks.append((mean, weight, members))
    means = np.array([mean for mean, _, _ in blocks], dtype=np.float64)
    return np.repeat(means, [members for _, _, members in blocks])


def isotonic_failure_rate(
    levels: ArrayLike, runs: ArrayLike, failures: ArrayLike
) -> NDArray[np.float64]:
    """Failure rate at each level, never falling towards harder levels; order as given.

    Args:
        levels: shape (n,), hardness, each level once; harder is larger.
        runs: shape (n,), runs made at each level, each above 0.
        failures: shape (n,), how many of them failed.

    Raises:
        ValueError: shapes differ, a level given twice, or failures not in 0..runs.
    """
    hardness = np.asarray(levels, dtype=np.float64)  # (n,)
    made = np.asarray(runs, dtype=np.float64)  # (n,)
    failed = np.asarray(failures, dtype=np.float64)  # (n,)
    if hardness.ndim != 1 or not hardness.shape == made.shape == failed.shape:
        raise ValueError("levels, runs and failures: expected one shape (n,)")
    if np.unique(hardness).size < hardness.size:
        raise ValueError("levels: expected each level once, with its runs added up")
    if not ((made > 0) & (failed >= 0) & (failed <= made)).all():
        raise ValueError("expected at least 1 run at each level and failures from 0 to runs")
    order = np.argsort(hardness)
    rate = np.empty_like(hardness)
    rate[order] = pool_adjacent_violators(failed[order] / made[order], made[order])
    return rate
