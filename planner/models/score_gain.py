"""What harder values could still add to the score, against how much scores differ by themselves."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from planner.models.edge_search import EdgeSearch
from planner.models.expected_improvement import expected_improvement

_FEWEST = 4
"""Scored runs below which neither slope nor noise is stated."""


@dataclass(frozen=True, slots=True)
class ScoreGain:
    """What is left to gain by going up to the hardest value that may still hold."""

    value: float
    """That value, in the knob's unit."""
    gain: float
    """Expected improvement over the best claimable score so far, in points."""
    noise: float
    """Run-to-run standard deviation of the score, in points."""


def score_gain(search: EdgeSearch) -> ScoreGain | None:
    """The gain left, by a straight line through the claimable scores; None where too few tell."""
    scored = [
        (search.knob.hardness(float(run.ran[search.knob.name])), run.best_score)
        for run in search.nominal_runs
        if run.best_score is not None
    ]
    if len(scored) < _FEWEST or len({hardness for hardness, _ in scored}) < 2:
        return None
    _, reach = search.posterior.interval()
    plausible = [v for v, level in zip(search.values, search.levels, strict=True) if level <= reach]
    if not plausible:
        return None
    hardness = search.knob.hardness(plausible[-1])
    mean, sd, noise = _predict([h for h, _ in scored], [s for _, s in scored], hardness)
    best = max(s for _, s in scored)
    return ScoreGain(plausible[-1], expected_improvement(mean, sd, best), noise)


def _predict(at: Sequence[float], scores: Sequence[float], x: float) -> tuple[float, float, float]:
    """Least-squares line: its mean at `x`, that mean's standard error, and the residual sd."""
    levels, values = np.asarray(at), np.asarray(scores)
    centre = levels.mean()
    spread = float(((levels - centre) ** 2).sum())
    slope = float(((levels - centre) * values).sum()) / spread
    residuals = values - values.mean() - slope * (levels - centre)
    noise = float(np.sqrt((residuals**2).sum() / (len(values) - 2)))
    error = noise * float(np.sqrt(1 / len(values) + (x - centre) ** 2 / spread))
    return float(values.mean() + slope * (x - centre)), error, noise
