"""What the runs say of particles.

With every risk against the run at once, `S(t)` the product of the risks' chances to hold for `t`
and `l` the share of stray crashes, a run that held says `S(t)(1 - l)^t`, one that failed between
`a` and `b` says `S(a)(1 - l)^a - S(b)(1 - l)^b`, one that failed to start says that not every risk
started. Each counts for what the person's suspicion makes of the causes.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from planner.domain.tables import LAPSE
from planner.models.hazard import Array
from planner.models.joint.columns import Columns, Places
from planner.models.joint.prior import (
    FIRST_SUPPORT,
    GAP,
    GROWTH,
    RATIO,
    WARMTH,
    WIDTH,
    RiskPrior,
)
from planner.models.joint.survival import PER_UNIT, Single, spread_class, survival_at

STRAY = float(np.log(1 - LAPSE))
STRAY_START = float(np.log(1 - 0.002))
_FLOOR = float(np.log(1e-12))
_LEAST = np.float32(1e-12)


@dataclass
class Terms:
    """Logs of chances, of one risk or summed over all: to hold, and to start."""

    held: Single
    """At each point, shape (n, p)."""
    started: Single | None
    """In each run, shape (n, r); None where nothing can fail to start."""

    def rows(self, which: slice | Places) -> "Terms":
        """Those of some particles."""
        started = None if self.started is None else self.started[which]
        return Terms(self.held[which], started)

    def changed(self, old: "Terms", new: "Terms") -> "Terms":
        """The sums with one risk's terms replaced."""
        held = self.held - old.held
        held += new.held
        if self.started is None or new.started is None or old.started is None:
            return Terms(held, self.started)
        started = self.started - old.started
        started += new.started
        return Terms(held, started)

    def put(self, rows: Places, of: Places, new: "Terms") -> None:
        """Take over the particles `of` in `new` as the particles `rows`."""
        self.held[rows] = new.held[of]
        if self.started is not None and new.started is not None:
            self.started[rows] = new.started[of]


@dataclass
class Offset:
    """By how much a group's edges stand shifted, in shares of the way."""

    held: Single
    """At each point, shape (n, p)."""
    started: Single
    """The start's edge in each run, shape (n, r)."""

    def rows(self, which: slice | Places) -> "Offset":
        """Those of some particles."""
        return Offset(self.held[which], self.started[which])

    def put(self, rows: Places, of: Places, new: "Offset") -> None:
        """Take over the particles `of` in `new` as the particles `rows`."""
        self.held[rows], self.started[rows] = new.held[of], new.started[of]


@dataclass(frozen=True)
class Asked:
    """One risk as the runs ask of it."""

    prior: RiskPrior
    basis: Single
    start_basis: Single | None

    def terms(self, theta: Array, offset: Offset | None = None) -> Terms:
        """Its logs for particles (n, d), the edges shifted by an offset."""
        inverse = np.exp(-theta[:, WIDTH])
        felt = [inverse, -inverse * self.prior.edge(theta)]
        for i in range(len(self.prior.risk.supports)):
            at = FIRST_SUPPORT + 2 * i
            gain = inverse * np.exp(theta[:, at])
            felt += [-gain, gain * theta[:, at + 1]]
        ends = [inverse * np.exp(theta[:, WARMTH]), theta[:, GROWTH], np.ones(len(theta))]
        y = (np.array([*felt, *ends]).T * PER_UNIT).astype(np.float32) @ self.basis
        ways = np.asarray(inverse * self.prior.risk.way, np.float32)[:, None]
        if offset is not None:
            y -= ways * np.float32(PER_UNIT) * offset.held
        held = survival_at(y, spread_class(theta[:, RATIO])[:, None].astype(np.float32))
        if self.start_basis is None:
            return Terms(held, None)
        felt[1] = felt[1] - inverse * np.exp(theta[:, GAP])
        gone = np.array(felt, np.float32).T @ self.start_basis
        if offset is not None:
            gone -= ways * offset.started
        return Terms(held, _started(gone))


def _started(gone: Single) -> Single:
    """Log of the chance to start so many widths past the start's edge; overwrites `gone`."""
    np.minimum(gone, 3.5, out=gone)
    np.exp(gone, out=gone)
    return np.negative(gone, out=gone)


def asked_of(prior: RiskPrior, place: int, columns: Columns) -> Asked:
    """What the runs ask of one risk."""
    supports = prior.risk.supports
    start = columns.start_basis(place, supports) if prior.risk.starts else None
    return Asked(prior, columns.basis(place, supports), start)


def edge_at(prior: RiskPrior, theta: Array, helps: Array, warmth: Array) -> Array:
    """The edge under supports (m, s) and warmth (m,), in spans, shape (n, m)."""
    edge = prior.edge(theta)[:, None] - np.exp(theta[:, WARMTH])[:, None] * warmth
    for i, support in enumerate(prior.risk.supports):
        at = FIRST_SUPPORT + 2 * i
        v = helps[:, support]
        edge = edge + np.exp(theta[:, at])[:, None] * (v - theta[:, at + 1][:, None] * v**2)
    return np.asarray(edge)


def log_start(prior: RiskPrior, theta: Array, beyond: Array) -> Array:
    """Log of the chance to start so many spans past the edge, shape (n, m) -> (n, m)."""
    if not prior.risk.starts:
        return np.zeros_like(beyond)
    gone = (beyond - np.exp(theta[:, GAP])[:, None]) / np.exp(theta[:, WIDTH])[:, None]
    return np.asarray(_started(gone.astype(np.float32)), float)


@dataclass(frozen=True)
class Verdicts:
    """What sums of terms say, run by run."""

    columns: Columns

    @cached_property
    def _stray(self) -> Single:
        return np.asarray(STRAY * self.columns.exposure, np.float32)

    @cached_property
    def _doubts(self) -> list[tuple[int, float]]:
        doubt = self.columns.evidence.doubt
        return [(int(run), float(doubt[run])) for run in np.flatnonzero(doubt)]

    def logs(self, total: Terms) -> Single:
        """Log likelihood of each run, suspicions aside, shape (n, r)."""
        columns = self.columns
        held, until = columns.held, columns.held + columns.late
        last = until + columns.early
        logs = total.held + self._stray
        found = np.empty((len(logs), len(columns.evidence.runs)), np.float32)
        found[:, :held] = logs[:, :held]
        found[:, held:until] = _between(logs[:, held:until], logs[:, until : until + columns.late])
        found[:, until:last] = _log_rest(logs[:, until + columns.late :])
        if total.started is None:
            found[:, last:] = _log_rest(np.full_like(found[:, last:], STRAY_START))
        else:
            found[:, :last] += total.started[:, :last]
            found[:, last:] = _log_rest(total.started[:, last:] + np.float32(STRAY_START))
        for run, doubt in self._doubts:
            found[:, run] = np.logaddexp(found[:, run] + np.log(1 - doubt), np.log(doubt))
        return np.maximum(found, np.float32(_FLOOR), out=found)


def _between(start: Single, end: Single) -> Single:
    """Log of `exp(start) - exp(end)`."""
    return np.asarray(start + _log_rest(end - start))


def _log_rest(logs: Single) -> Single:
    """Log of `1 - exp(logs)`."""
    return np.asarray(np.log(np.maximum(-np.expm1(logs), _LEAST)))


def shares(every: list[Terms], columns: Columns, runs: Places) -> Array:
    """Each cause's share in some runs that failed, the stray one last, shape (n, runs, k + 1).

    A risk's share is that of its hazard over the time in which the run failed; suspicions aside.
    """
    evidence = columns.evidence
    until, last = columns.held + columns.late, columns.held + columns.late + columns.early
    unstarted = runs >= last
    late = (runs >= columns.held) & (runs < until)
    start = np.where(late, runs, 0)
    end = np.where(unstarted, 0, runs + columns.late)
    hazards = []
    for terms in every:
        if not terms.held.shape[1]:
            used = np.zeros((len(terms.held), len(runs)))
        else:
            used = np.where(late, terms.held[:, start], 0.0) - terms.held[:, end]
        gone = np.zeros_like(used) if terms.started is None else -terms.started[:, runs]
        hazards.append(np.where(unstarted, gone, np.maximum(used, 0.0)))
    lasted = evidence.by * evidence.by_share - evidence.held * evidence.held_share
    stray = -STRAY * lasted[runs]
    stray = np.where(unstarted, -STRAY_START, stray)
    hazards.append(np.broadcast_to(stray, hazards[0].shape))
    stacked = np.stack(hazards, axis=2)
    total = stacked.sum(axis=2, keepdims=True)
    share = stacked / np.maximum(total, 1e-300)
    doubt = evidence.doubt[runs][:, None]
    alone = doubt / (doubt + (1 - doubt) * -np.expm1(-total) + 1e-300)
    share = share * (1 - alone)
    share[:, :, -1:] += alone
    return np.asarray(share)
