"""The runs as arrays: where each stood, how long it held, by when it had failed."""

from collections.abc import Sequence
from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from planner.domain.outcome import Outcome
from planner.domain.run import Run
from planner.history import History
from planner.models.evidence import FADED, failed_part
from planner.models.hazard import Array
from planner.models.joint.layout import Layout

ROOM = 22.0
"""Reference temperature of the room, in °C."""


@dataclass(frozen=True)
class Evidence:
    """`n` runs that say something; times are shares of a nominal run."""

    runs: tuple[Run, ...]
    at: Array
    """Coordinate of each risk, shape (n, k)."""
    help: Array
    """Coordinate of each support, shape (n, s)."""
    warmth: Array
    """Room above its reference in units of 10 K; 0 where not read, shape (n,)."""
    held: Array
    """How long it held for certain, shape (n,)."""
    by: Array
    """By when it had failed; where it held, as `held`, shape (n,)."""
    failed: Array
    """1 where it failed after having started, shape (n,)."""
    unstarted: Array
    """1 where it failed to start, shape (n,)."""
    suspected: Array
    """How likely the person's suspicion is under each cause, the stray one last, (n, k + 1)."""
    weight: Array
    """Shape (n,)."""

    def only(self, rows: NDArray[np.intp]) -> "Evidence":
        """What some of the runs say."""
        arrays = {
            field.name: getattr(self, field.name)[rows]
            for field in fields(self)
            if field.name != "runs"
        }
        return Evidence(runs=tuple(self.runs[i] for i in rows), **arrays)


def evidence_of(history: History, layout: Layout) -> Evidence:
    """What the runs of the study's workload say."""
    workload = history.definition.workload
    told = [run for run in history.evidence if _speaks(run, workload.name)]
    lengths = np.array([run.run_minutes / workload.minutes for run in told], float)
    spans = [_span(run) for run in told]
    started = np.array([run.outcome is not Outcome.NO_START for run in told], bool)
    failed = np.array([run.outcome.failed for run in told], bool)
    low, high = (np.array([s[i] for s in spans], float).reshape(-1) for i in (0, 1))
    settled = [_settled(run, history) for run in told]
    return Evidence(
        runs=tuple(told),
        at=layout.coordinates([run.ran for run in told]),
        help=layout.helps([run.ran for run in told]),
        warmth=np.array([(run.readings.get("room", ROOM) - ROOM) / 10 for run in told], float),
        held=np.where(started, low * lengths * settled, 0.0),
        by=np.where(started, high * lengths * np.where(failed, 1.0, settled), 0.0),
        failed=(failed & started).astype(float),
        unstarted=(~started).astype(float),
        suspected=_suspicions(history, layout, told),
        weight=np.array([_weight(history, run) for run in told], float),
    )


def _speaks(run: Run, workload: str) -> bool:
    return run.outcome is Outcome.NO_START or run.workload == workload


def _settled(run: Run, history: History) -> float:
    """0 for a pass too short for heat to settle."""
    workload = history.definition.workload
    long_enough = run.run_minutes >= min(workload.settle_minutes, workload.minutes)
    return 1.0 if run.outcome.failed or long_enough else 0.0


def _span(run: Run) -> tuple[float, float]:
    """The part of the run in which it failed; all of it where it held."""
    if run.outcome.held:
        return 1.0, 1.0
    part = None if run.outcome is Outcome.ERRORS else failed_part(run)
    return part or (0.0, 1.0)


def _suspicions(history: History, layout: Layout, runs: Sequence[Run]) -> Array:
    trust = history.definition.goal.trust_suspicion
    found = np.ones((len(runs), len(layout.risks) + 1))
    groups = [risk.knob.group for risk in layout.risks]
    for row, run in zip(found, runs, strict=True):
        if not run.suspect or run.outcome.held:
            continue
        named = [run.suspect in (r.knob.name, r.knob.group) for r in layout.risks]
        if not any(named):
            continue
        others = max(len(set(groups)) - 1, 1)
        row[:-1] = np.where(named, trust, (1 - trust) / others)
        row[-1] = (1 - trust) / others
    return found


def _weight(history: History, run: Run) -> float:
    later = history.changes[run.epoch :]
    return FADED if later else 1.0
