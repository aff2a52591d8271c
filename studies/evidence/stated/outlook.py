"""What the next half hour was said to be worth beside what it brought.

Scores are the rig's own, free of noise, in the room in which the forecast was asked for.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import exp, expm1, inf
from typing import Any

import numpy as np
from table import markdown, with_error

import planner
from planner.peak.forecast import AHEAD, evenings_ahead
from planner.peak.plan import peak_plan
from planner.rigs.evening.rig import EveningRig

_SAME = 1e-3
"""Thousandths by which gains differ that count as the same."""


@dataclass
class Best:
    """The best setting that passed, against minutes, by its log score over stock's."""

    steps: list[tuple[float, float]] = field(default_factory=list)

    def add(self, minutes: float, gain: float) -> None:
        """A run that ended; 0 where it failed."""
        self.steps.append((minutes, max(gain, self.at(minutes))))

    def at(self, minutes: float) -> float:
        """The best by then."""
        return max((gain for when, gain in self.steps if when <= minutes), default=0.0)

    def came(self, start: float, end: float) -> float:
        """Thousandths of the score that the time between brought."""
        return 1000 * expm1(self.at(end) - self.at(start))


@dataclass(frozen=True)
class Told:
    """One forecast of half an hour, in points."""

    seed: int
    mark: float
    minutes: float
    """When it was asked for: the end of the run that passed the mark."""
    stock: float
    """What stock truly scores in the room as it then was."""
    best: float
    """The best so far as the planner sees it, freed of its luck."""
    worth: float
    low: float
    high: float
    flat: bool
    """Whether it says that gains have flattened."""
    drawn: tuple[float, ...]
    """The gain of each played evening, as a share of the score."""


def told(study: planner.Study, rig: EveningRig, mark: float) -> Told:
    """The forecast as the Python interface and `planner forecast` give it, and its evenings."""
    said = study.forecast(AHEAD)
    plan = peak_plan(study.history)
    _, scores = evenings_ahead(plan.search, plan.offered, AHEAD)
    return Told(
        rig.seed,
        mark,
        rig.minutes,
        rig.scoring.score(rig.stock, rig.room),
        said.best,
        said.worth,
        said.low[-1],
        said.high[-1],
        said.worth + said.worth_sd < said.noise,
        tuple((scores[:, -1] / scores[:, 0] - 1).tolist()),
    )


def table(evenings: Sequence[Any]) -> str:
    """Said and realised at each mark, in thousandths of the score; band; ranks by fifths."""
    pairs = [(t, e.best) for e in evenings for t in e.outlooks]
    rows = [_row("all", pairs)]
    for mark in sorted({t.mark for t, _ in pairs}):
        rows.append(_row(f"{mark:.0f} min", [p for p in pairs if p[0].mark == mark]))
    head = ("asked at", "forecasts", "said", "came", "in the band", "below", "above")
    return markdown((*head, "best now: truth less said", "ranks by fifths"), rows)


def _row(label: str, pairs: Sequence[tuple[Told, Best]]) -> list[str]:
    said, came, off, sides, ranks = [], [], [], [], []
    for one, best in pairs:
        now, after = (one.stock * exp(best.at(one.minutes + t)) for t in (0.0, AHEAD))
        said.append(1000 * one.worth / one.best)
        came.append(best.came(one.minutes, one.minutes + AHEAD))
        off.append(1000 * (now / one.best - 1))
        sides.append(int(after > one.high) - int(after < one.low))
        ranks.append(_rank(one, came[-1]))
    shares = [f"{np.mean(np.array(sides) == side):.2f}" for side in (0, -1, 1)]
    fifths = np.mean([np.histogram(r, bins=5, range=(0, 1))[0] / len(r) for r in ranks], axis=0)
    return [
        label,
        str(len(pairs)),
        *(with_error(values, 1) for values in (said, came)),
        *shares,
        with_error(off, 1),
        " ".join(f"{share:.2f}" for share in fifths),
    ]


def _rank(one: Told, came: float) -> Sequence[float]:
    """Where the gain that came stands among those played, spread evenly over equal ones."""
    drawn = 1000 * np.array(one.drawn)
    low, high = float(np.mean(drawn < came - _SAME)), float(np.mean(drawn <= came + _SAME))
    return [float(rank) for rank in np.linspace(low, high, 51)]


def closings(evenings: Sequence[Any]) -> str:
    """How often it would have closed, and what the rest of the evening still brought."""
    shut = [e for e in evenings if e.closed is not None]
    lines = [f"would have closed for flat gains: {len(shut)} of {len(evenings)} evenings"]
    if shut:
        rest = [e.best.came(e.closed, inf) for e in shut]
        left = [e.best.steps[-1][0] - e.closed for e in shut]
        lines.append(
            f"at minute {np.mean([e.closed for e in shut]):.0f} on average; the {np.mean(left):.0f}"
            f" minutes after it brought {with_error(rest, 1)} thousandths, at most {max(rest):.1f}"
        )
    flat = [(t, e.best) for e in evenings for t in e.outlooks if t.flat]
    if flat:
        came = [best.came(told.minutes, told.minutes + AHEAD) for told, best in flat]
        lines.append(
            f"called flat at a mark: {len(flat)}; the half hour after it brought"
            f" {with_error(came, 1)} thousandths"
        )
    return "\n".join(lines)
