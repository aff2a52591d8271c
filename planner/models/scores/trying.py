"""The chance that a run comes to a score, and that one of several does."""

from math import hypot, inf, isinf
from statistics import NormalDist

from planner.models.scores.answering import Holding, Level
from planner.trade.student import t_cdf, t_quantile

_SHARES = 41
"""Equally likely values that stand for what is not known of a score's mean."""


def reaches(level: Level, goal: float) -> float:
    """Chance that one run which holds comes to the score."""
    error = hypot(level.error, level.noise)
    if not error:
        return float(level.mean >= goal)
    return _below((level.mean - goal) / error, level.freedom)


def in_time(held: Holding, level: Level, goal: float, tries: int) -> float:
    """Chance that one of several runs holds and comes to the score.

    The tries share what is not known of the edge and of the mean score, so their chances are put
    together for each edge and mean that is possible, and only then averaged.
    """
    chance = 0.0
    for i in range(_SHARES):
        mean = level.mean + level.error * _quantile((i + 0.5) / _SHARES, level.freedom)
        beats = reaches(Level(mean, 0.0, level.noise, inf), goal)
        chance += 1 - float((1 - held.chances * beats) ** tries @ held.weights)
    return chance / _SHARES


def _below(deviations: float, freedom: float) -> float:
    return NormalDist().cdf(deviations) if isinf(freedom) else t_cdf(deviations, freedom)


def _quantile(share: float, freedom: float) -> float:
    return NormalDist().inv_cdf(share) if isinf(freedom) else t_quantile(share, freedom)
