"""A small study with two risks and a support, and runs drawn from the model itself."""

from __future__ import annotations

from typing import Any

import numpy as np

from planner import Study
from planner.history import History
from planner.models.hazard import Array
from planner.models.joint.layout import Layout, layout_of
from planner.models.joint.likelihood import STRAY, edge_at
from planner.models.joint.prior import GROWTH, RATIO, WIDTH, RiskPrior

MINUTES = 10.0


def small(**study: Any) -> dict[str, Any]:
    """Tables of a study with a clock, its voltage and a timing-like knob."""
    clock = {"name": "clock", "group": "core", "unit": "MHz", "low": 4000, "high": 5000}
    clock |= {"step": 25, "stock": 4200, "where": "live"}
    volts = {"name": "volts", "group": "core", "unit": "V", "low": 1.0, "high": 1.4}
    volts |= {"step": 0.01, "stock": 1.1, "harder": "down", "supports": ["clock"]}
    volts |= {"everyday": 1.3, "where": "live"}
    gap = {"name": "gap", "group": "memory", "low": 10, "high": 40, "step": 1, "stock": 34}
    gap |= {"harder": "down", "where": "live"}
    return {
        "study": {"aim": "peak", **study},
        "group": [{"name": "core"}, {"name": "memory"}],
        "knob": [clock, volts, gap],
        "reading": [{"name": "room", "unit": "C"}],
        "workload": [{"name": "loop", "minutes": MINUTES, "scored": True}],
    }


def layout() -> Layout:
    """Of the small study."""
    return layout_of(Study.create(small()).history.definition)


def settings(rng: np.random.Generator, count: int) -> list[dict[str, Any]]:
    """Settings between stock and the hard ends."""
    return [
        {
            "clock": float(4200 + 25 * rng.integers(0, 25)),
            "volts": round(1.1 + 0.01 * int(rng.integers(0, 21)), 2),
            "gap": float(34 - rng.integers(0, 18)),
        }
        for _ in range(count)
    ]


def outcome(
    rng: np.random.Generator,
    priors: tuple[RiskPrior, ...],
    rows: list[Array],
    at: Array,
    helps: Array,
) -> tuple[str, float | None]:
    """One nominal run as the model has it: pass, or a crash after some seconds.

    Drawn from the statement of the law: a shift for each risk and run, then the time at which the
    exponent, an exponential draw, is used up.
    """
    first = -np.log(rng.random()) / -STRAY
    for k, (prior, row) in enumerate(zip(priors, rows, strict=True)):
        edge = edge_at(prior, row[None, :], helps, np.zeros(1))[0, 0]
        width = float(np.exp(row[WIDTH]))
        y = (at[0, k] - edge) / width - np.exp(row[RATIO]) * rng.standard_normal()
        used = -np.log(rng.random()) * np.exp(min(-y, 700.0))
        first = min(first, used ** (1 / row[GROWTH]) if used < 1 else used)
    return ("pass", None) if first >= 1 else ("crash", float(first) * MINUTES * 60)


def recorded(draws: list[tuple[dict[str, Any], str, float | None]]) -> History:
    """The history of runs."""
    study = Study.create(small())
    for setting, ended, seconds in draws:
        study.record(ended, settings=setting, minutes=12, failed_after_s=seconds)
    return study.history
