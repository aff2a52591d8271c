"""By how much one step of a knob moves the score: least squares over the claimable runs.

ln(score) = a + sum of b_k h_k + noise, h_k the knob's hardness in steps, over the knobs that were
varied; runs whose unordered knobs stand otherwise than at the point asked about are left out. A
straight line near that point, no more: it does not know where a score bends down.

Source: ordinary least squares, any textbook.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import exp, inf, log

import numpy as np

from planner.domain.knob import Harder, Setting
from planner.history import History
from planner.models.hazard import Array
from planner.models.scores.answering import Level, Slope
from planner.models.scores.scored import Scored, score_of

TAIL = 1.645
"""Standard errors to either end of a 90 % interval."""
_SPARE = 1
"""Degrees of freedom without which no slope is stated."""


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

    def steps_to(self, slope: Slope, ratio: float) -> tuple[float, tuple[float, float]]:
        """Steps of a knob that multiply the score by `ratio`, and their 90 % interval."""
        return straight_steps(slope, ratio)

    def after(self, knob: str, steps: float) -> Level:
        """That many steps of a knob harder."""
        at = next(i for i, slope in enumerate(self.slopes) if slope.knob == knob)
        row = np.zeros(len(self.slopes) + 1)
        row[0], row[1 + at] = 1.0, steps
        error = float(row @ self.covariance @ row) ** 0.5
        level = self.level + steps * self.slopes[at].per_step
        return Level(level, error, self.noise, self.freedom)


def straight_steps(slope: Slope, ratio: float) -> tuple[float, tuple[float, float]]:
    """Steps along a straight line that multiply the score by `ratio`, and their 90 % interval.

    The interval has no end where the slope may be nought.
    """
    wanted = log(ratio)
    steps = wanted / slope.per_step if slope.per_step else inf
    ends = (slope.per_step - TAIL * slope.error, slope.per_step + TAIL * slope.error)
    if ends[0] <= 0 <= ends[1]:
        return steps, (-inf, inf)
    low, high = sorted(wanted / end for end in ends)
    return steps, (low, high)


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
        Slope(name, float(solved[i]), float(errors[i])) for i, name in enumerate(varied, 1)
    )
    return Response(slopes, variance**0.5, freedom, float(solved[0]), covariance)
