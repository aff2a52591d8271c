"""Studies whose totals are made of three sub-scores by a known rule."""

from typing import Any

import numpy as np

from planner import Study
from planner.domain.combining import Combining
from planner.trade.scores.combined import total

WEIGHTS = {"shade": 0.55, "pack": 0.3, "solve": 0.15}
BASE = {"shade": 21_000.0, "pack": 14_000.0, "solve": 9_000.0}
PER_STEP = {"shade": 0.011, "pack": 0.004, "solve": 0.007}
"""Share by which one step of the clock raises each sub-score."""


def scored_tables(workload: dict[str, Any] | None = None, **study: Any) -> dict[str, Any]:
    """A clock that is searched, a timing that moves scores as well, a score with three parts."""
    clock = {"name": "clock", "unit": "MHz", "low": 4000, "high": 5000, "step": 50, "stock": 4200}
    timing = {"name": "timing", "low": 30, "high": 50, "step": 1, "stock": 44, "harder": "down"}
    made = {"name": "loop", "minutes": 5, "subscores": [*WEIGHTS]} | (workload or {})
    return {
        "study": {"name": "box", "knob": "clock", "minutes": 300, **study},
        "knob": [clock | {"where": "live"}, timing],
        "workload": [made],
    }


def parts_at(clock: float, rng: np.random.Generator, noise: float = 0.002) -> dict[str, float]:
    """Sub-scores of one run at a clock, in whole points."""
    steps = (clock - 4200) / 50
    return {
        n: round(v * (1 + PER_STEP[n] * steps) * float(rng.normal(1, noise)))
        for n, v in BASE.items()
    }


def scored_study(
    clocks: list[float], seed: int = 3, workload: dict[str, Any] | None = None, **study: Any
) -> Study:
    """Passes at these clocks, each with its sub-scores and their weighted harmonic mean."""
    made, rng = Study.create(scored_tables(workload, **study)), np.random.default_rng(seed)
    for clock in clocks:
        parts = parts_at(clock, rng)
        score = round(total(Combining.HARMONIC, WEIGHTS, parts))
        made.record("pass", settings={"clock": clock}, score=score, subscores=parts)
    return made
