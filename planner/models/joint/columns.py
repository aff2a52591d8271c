"""The runs laid out for speed: one column for each time up to which a run held or had failed.

Runs are sorted by what they say: those that held, those that failed after having held for a while,
those that failed by some time, those that did not start. The points at which chances to hold are
asked follow in the same order, so that everything below is slices:

    points   held to the end | held so long | had failed by then | had failed by then
    runs     held            | failed late                       | failed early       | not started
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from planner.models.hazard import Array
from planner.models.joint.evidence import Evidence
from planner.models.joint.survival import Single

Places = NDArray[np.intp]


@dataclass(frozen=True)
class Columns:
    """Some runs, sorted, with the points at which chances to hold are asked."""

    evidence: Evidence
    """Of `r` runs, sorted."""
    rows: Places
    """Place of each in the evidence that was given, shape (r,)."""
    held: int
    """How many runs held."""
    late: int
    """How many failed after having held for a while."""
    early: int
    """How many failed by some time."""

    @cached_property
    def point_run(self) -> Places:
        """The run of each point, shape (p,)."""
        rows = np.arange(len(self.evidence.runs))
        first, last = self.held + self.late, self.held + self.late + self.early
        return np.concatenate([rows[:first], rows[self.held : last]])

    @cached_property
    def _time(self) -> tuple[Array, Array]:
        """Time at each point and the share of failures that counts, two of shape (p,)."""
        evidence, until = self.evidence, self.held + self.late
        first, then = slice(0, until), slice(self.held, until + self.early)
        times = np.concatenate([evidence.held[first], evidence.by[then]])
        return times, np.concatenate([evidence.held_share[first], evidence.by_share[then]])

    @cached_property
    def exposure(self) -> Single:
        """Share of a nominal run at each point, for stray crashes, shape (p,)."""
        times, shares = self._time
        return (times * shares).astype(np.float32)

    def basis(self, risk: int, supports: tuple[int, ...]) -> Single:
        """What `y` of one risk is linear in, point by point, shape (5 + 2 s, p).

        The last two rows are the log of time within a nominal run and what counts beside it.
        """
        times, shares = self._time
        logs = np.log(np.maximum(times, 1e-9))
        ends = [self.evidence.warmth[self.point_run], np.minimum(logs, 0)]
        felt = self._felt(risk, supports, self.point_run)
        beside = np.maximum(logs, 0) + np.log(shares)
        return np.concatenate([felt, np.array([*ends, beside], np.float32)])

    def start_basis(self, risk: int, supports: tuple[int, ...]) -> Single:
        """What the distance past the start's edge is linear in, shape (2 + 2 s, r)."""
        return self._felt(risk, supports, np.arange(len(self.evidence.runs)))

    def _felt(self, risk: int, supports: tuple[int, ...], of: Places) -> Single:
        at = self.evidence.at[of, risk]
        rows = [at, np.ones(len(of))]
        for support in supports:
            value = self.evidence.help[of, support]
            rows += [value, value**2]
        return np.array(rows, np.float32)


def columns_of(evidence: Evidence) -> Columns:
    """The runs sorted; those that say nothing are left out."""
    started = evidence.unstarted == 0
    failed = (evidence.failed > 0) & started
    held = started & ~failed & (evidence.held > 0)
    late = failed & (evidence.held > 0)
    early = failed & (evidence.held <= 0)
    kinds = [np.flatnonzero(k) for k in (held, late, early, ~started)]
    rows = np.concatenate(kinds)
    return Columns(evidence.only(rows), rows, len(kinds[0]), len(kinds[1]), len(kinds[2]))
