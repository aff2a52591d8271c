"""By how much one step of a knob moves the score: least squares over the claimable runs.

ln(score) = a + sum of b_k h_k + noise, h_k the knob's hardness in steps, over the knobs that were
varied; runs whose unordered knobs stand otherwise than at the point asked about are left out. A
straight line near that point, no more: it does not know where a score bends down.

Source: ordinary least squares, any textbook.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import exp, log

import numpy as np

from planner.domain.knob import Harder, Setting
from planner.history import History
from planner.models.hazard import Array
from planner.models.scores.scored import Scored, score_of

_SPARE = 1
"""Degrees of freedom without which no slope is stated."""


@dataclass(frozen=True, slots=True)
class Slope:
    """What one step of a knob towards harder does to the score."""

    knob: str
    per_step: float
    """Change of ln(score), about the relative gain."""
    error: float
    """Its standard error."""
    freedom: int

    @property
    def known(self) -> bool:
        """Whether it is told from none: two standard errors."""
        return abs(self.per_step) > 2 * self.error


@dataclass(frozen=True)
class Response:
    """The score near one setting, as a straight line in its logarithm."""

    slopes: tuple[Slope, ...]
    noise: float
    """Standard deviation of what the line leaves, relative."""
    freedom: int
    level: float
    """ln(score) by the line at the setting that it was made for."""
    covariance: Array
    """Of level and slopes, shape (1 + k, 1 + k)."""

    def score(self) -> float:
        """The score by the line at its setting."""
        return exp(self.level)

    def after(self, knob: str, steps: float) -> tuple[float, float]:
        """ln(score) that many steps of a knob harder, and the standard error of one run there."""
        at = next(i for i, slope in enumerate(self.slopes) if slope.knob == knob)
        row = np.zeros(len(self.slopes) + 1)
        row[0], row[1 + at] = 1.0, steps
        error = self.noise**2 + float(row @ self.covariance @ row)
        return self.level + steps * self.slopes[at].per_step, error**0.5


def response_at(history: History, scored: Scored, setting: Setting) -> Response | str:
    """The response near a setting, or why the runs give none."""
    knobs = history.definition.knobs
    fixed = [n for n, k in knobs.items() if k.harder is Harder.CHOICE]
    runs = [r for r in scored.runs if all(r.ran.get(n) == setting.get(n) for n in fixed)]
    varied = [
        name
        for name, knob in knobs.items()
        if knob.grid is not None and len({run.ran.get(name) for run in runs}) > 1
    ]
    if not varied:
        return "the scored runs vary no knob"
    if len(runs) < len(varied) + 1 + _SPARE:
        return (
            f"{len(runs)} scored runs vary {', '.join(varied)}: a line through them needs"
            f" {len(varied) + 1 + _SPARE}"
        )

    def place(values: Setting) -> Iterator[float]:
        for name in varied:
            here, there = float(values[name]), float(setting[name])
            yield knobs[name].hardness(here) - knobs[name].hardness(there)

    design = np.array([[1.0, *place(run.ran)] for run in runs])
    goal = np.array([log(score_of(run)) for run in runs])
    solved, _, rank, _ = np.linalg.lstsq(design, goal, rcond=1e-9)
    if rank < design.shape[1]:
        return (
            f"{', '.join(varied)} were moved together: vary them one at a time to tell them apart"
        )
    left = goal - design @ solved
    freedom = len(runs) - design.shape[1]
    variance = float(left @ left) / freedom
    covariance = variance * np.linalg.inv(design.T @ design)
    errors = np.sqrt(np.diag(covariance))
    slopes = tuple(
        Slope(name, float(solved[i]), float(errors[i]), freedom) for i, name in enumerate(varied, 1)
    )
    return Response(slopes, variance**0.5, freedom, float(solved[0]), covariance)
