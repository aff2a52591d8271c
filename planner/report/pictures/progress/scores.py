"""The scores of an evening, and the best one that may be claimed as it rose."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

from planner.gate import above_everyday
from planner.history import History
from planner.report.pictures.progress.runs import MANY, TIMES

_ROWS = 30


@dataclass(frozen=True, slots=True)
class Scored:
    """Scores that share a mark."""

    minutes: float
    score: float
    claimable: bool
    count: int


@dataclass(frozen=True, slots=True)
class Scores:
    """The second panel."""

    marks: tuple[Scored, ...]
    best: tuple[tuple[float, float], ...]
    """From how many minutes on which score was the best that may be claimed."""
    risked: bool
    """Whether that one was reached above an everyday ceiling."""
    elsewhere: int
    """Scores of other workloads: no scale is shared, so they are left out."""


def scores_of(history: History) -> Scores | None:
    """The scores of the study's workload; None where there is none."""
    workload, spent = history.definition.workload.name, 0.0
    points, best, elsewhere, top, winner = [], [], 0, -inf, None
    for run in history.evidence:
        spent += run.minutes
        if run.score is None:
            continue
        if run.workload != workload:
            elsewhere += 1
            continue
        claimed = run.best_score
        points.append((spent, run.score, claimed is not None))
        if claimed is not None and claimed > top:
            top, winner = claimed, run
            best.append((spent, claimed))
    if not points:
        return None
    risked = winner is not None and bool(above_everyday(history.definition, winner.ran))
    return Scores(_marks(points, history.minutes_spent), tuple(best), risked, elsewhere)


def _marks(points: Sequence[tuple[float, float, bool]], minutes: float) -> tuple[Scored, ...]:
    if len(points) > MANY:
        width = (minutes or 1.0) / TIMES
        low, high = min(s for _, s, _ in points), max(s for _, s, _ in points)
        height = (high - low) / _ROWS or 1.0
        points = [
            (
                (min(int(at / width), TIMES - 1) + 0.5) * width,
                low + (min(int((score - low) / height), _ROWS - 1) + 0.5) * height,
                claimable,
            )
            for at, score, claimable in points
        ]
    return tuple(Scored(*place, count) for place, count in Counter(points).items())
