"""The runs as arrays: where each stood, how long it held, by when it had failed."""

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import NDArray

from planner.domain.outcome import Outcome
from planner.domain.run import Run
from planner.history import History
from planner.models.evidence import failed_part
from planner.models.hazard import Array
from planner.models.joint.layout import Layout
from planner.models.joint.shifts import Shared, boots_of

ROOM = 22.0
"""Reference temperature of the room, in °C."""
_NO_ARRAYS = ("runs", "shifted")
"""Fields of evidence that are told run by run otherwise than in one array."""
_WRONG_DOUBT = 0.2
"""How likely a wrong result says nothing of the setting: programs err, too."""
_SOME, _HALF = 0.1, 0.5
"""Shares of counted errors that are thought seen (see `_span`)."""


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
    held_share: Array
    """The share of failures that count towards `held`, 1 but for counted errors, shape (n,)."""
    by_share: Array
    """The same of `by`, shape (n,)."""
    failed: Array
    """1 where it failed after having started, shape (n,)."""
    unstarted: Array
    """1 where it failed to start, shape (n,)."""
    doubt: Array
    """How likely it says nothing of the setting, shape (n,)."""
    suspected: Array
    """How likely the person's suspicion is under each cause, the stray one last, (n, k + 1)."""
    shifted: tuple[Array, ...]
    """For each group with shifts, 1 where it stood shifted, shape (n, c)."""
    boot: NDArray[np.intp]
    """Counts the starts of the machine, shape (n,)."""
    weight: Array
    """How many runs it stands for, shape (n,)."""

    def only(self, rows: NDArray[np.intp]) -> "Evidence":
        """What some of the runs say."""
        arrays = {
            field.name: getattr(self, field.name)[rows]
            for field in fields(self)
            if field.name not in _NO_ARRAYS
        }
        shifted = tuple(columns[rows] for columns in self.shifted)
        return Evidence(runs=tuple(self.runs[i] for i in rows), shifted=shifted, **arrays)


def speaking(history: History) -> tuple[Run, ...]:
    """The runs that say something of what holds."""
    workloads = history.definition.workloads
    return tuple(
        run
        for run in history.evidence
        if run.outcome is Outcome.NO_START or run.workload in workloads
    )


def evidence_of(history: History, layout: Layout, shared: Sequence[Shared] = ()) -> Evidence:
    """What the runs say; `shared`: what shifts the edges of whole groups."""
    told = speaking(history)
    boots = boots_of(history.definition, told)
    minutes = history.definition.workload.minutes
    lengths = np.array([run.run_minutes / minutes for run in told], float)
    spans = np.array([_span(run) for run in told], float).reshape(len(told), 4)
    started = np.array([run.outcome is not Outcome.NO_START for run in told], bool)
    failed = np.array([run.outcome.failed for run in told], bool)
    settled = np.array([_settled(run, history) for run in told], float)
    wrong = np.array([run.outcome is Outcome.WRONG_RESULT for run in told], bool)
    return Evidence(
        runs=told,
        at=layout.coordinates([run.ran for run in told]),
        help=layout.helps([run.ran for run in told]),
        warmth=np.array([_warmth(run) for run in told], float),
        held=np.where(started, spans[:, 0] * lengths * settled, 0.0),
        by=np.where(started, spans[:, 1] * lengths * settled, 0.0),
        held_share=spans[:, 2],
        by_share=spans[:, 3],
        failed=(failed & started).astype(float),
        unstarted=(~started).astype(float),
        doubt=np.where(wrong, _WRONG_DOUBT, 0.0),
        suspected=_suspicions(history, layout, told),
        shifted=tuple(each.of_runs(told) for each in shared),
        boot=np.array(boots if any(each.boots for each in shared) else [0] * len(told), np.intp),
        weight=np.ones(len(told)),
    )


def merged(evidence: Evidence) -> Evidence:
    """The same evidence with runs that say the same told once, by their number."""
    if not evidence.runs:
        return evidence
    apart = (*_NO_ARRAYS, "weight")
    arrays = [getattr(evidence, f.name) for f in fields(evidence) if f.name not in apart]
    columns = np.column_stack([*arrays, *evidence.shifted])
    _, first, back = np.unique(columns, axis=0, return_index=True, return_inverse=True)
    counts = np.bincount(back.reshape(-1), weights=evidence.weight).astype(float)
    order = np.argsort(first)
    return replace(evidence.only(first[order]), weight=counts[order])


def _warmth(run: Run) -> float:
    """To half a kelvin: finer differences only keep runs that say the same from being merged."""
    return round((run.readings.get("room", ROOM) - ROOM) * 2) / 20


def _settled(run: Run, history: History) -> float:
    """0 for a pass too short for heat to settle."""
    workload = history.definition.workloads.get(run.workload, history.definition.workload)
    long_enough = run.run_minutes >= min(workload.settle_minutes, workload.minutes)
    return 1.0 if run.outcome.failed or long_enough else 0.0


def _span(run: Run) -> tuple[float, float, float, float]:
    """The part of the run in which it failed, all of it where it held; shares of failures.

    Counted errors are Poisson. If each were seen with the chance `q` only, none would be in the
    first `t` of a run with the chance to hold for `t` at `q` times the hazard. A few errors (2 to
    9) are told as: one in two would have been seen, one in ten would not; one error as: some are
    there, one in two would not have been seen. Exact counts would say more than they know, as
    errors come in bursts.
    """
    if run.outcome.held:
        return 1.0, 1.0, 1.0, 1.0
    if run.outcome is not Outcome.ERRORS:
        return (*(failed_part(run) or (0.0, 1.0)), 1.0, 1.0)
    errors = run.errors or 0
    if errors == 1:
        return 1.0, 1.0, _HALF, 1.0
    if errors >= 10:
        return 0.0, 1.0, 1.0, _SOME
    return (1.0, 1.0, _SOME, _HALF) if errors else (0.0, 1.0, 1.0, 1.0)


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
