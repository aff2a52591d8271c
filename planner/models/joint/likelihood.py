"""What the runs say of particles.

With every risk against the run at once, `S(t)` the product of the risks' chances to hold for `t`
and `l` the share of stray crashes, a run that held says `S(t)(1 - l)^t`, one that failed between
`a` and `b` says `S(a)(1 - l)^a - S(b)(1 - l)^b`, one that failed to start says that not every risk
started. Each counts for what the person's suspicion makes of the causes.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np

from planner.domain.tables import LAPSE
from planner.models.hazard import Array
from planner.models.joint.evidence import Evidence
from planner.models.joint.prior import (
    FIRST_SUPPORT,
    GAP,
    GROWTH,
    RATIO,
    WARMTH,
    WIDTH,
    RiskPrior,
)
from planner.models.joint.survival import log_survival, spread_class

STRAY = float(np.log(1 - LAPSE))
STRAY_START = float(np.log(1 - 0.002))
_FLOOR = 1e-12


@dataclass
class Terms:
    """Logs of one risk's chances in each run, shapes (n particles, n runs)."""

    held: Array
    by: Array
    started: Array

    def rows(self, which: Any) -> "Terms":
        """Those of some particles."""
        return Terms(self.held[which], self.by[which], self.started[which])

    def runs(self, which: Any) -> "Terms":
        """Those of some runs."""
        return Terms(self.held[:, which], self.by[:, which], self.started[:, which])

    def put(self, rows: slice, accepted: Any, new: "Terms") -> None:
        """Take over the accepted ones of `new`, which stand for `rows`."""
        self.held[rows][accepted] = new.held[accepted]
        self.by[rows][accepted] = new.by[accepted]
        self.started[rows][accepted] = new.started[accepted]


def edge_at(prior: RiskPrior, theta: Array, helps: Array, warmth: Array) -> Array:
    """The edge under supports (m, s) and warmth (m,), in spans, shape (n, m)."""
    edge = prior.edge(theta)[:, None] - np.exp(theta[:, WARMTH])[:, None] * warmth
    for i, support in enumerate(prior.risk.supports):
        at = FIRST_SUPPORT + 2 * i
        v = helps[:, support]
        edge = edge + np.exp(theta[:, at])[:, None] * (v - theta[:, at + 1][:, None] * v**2)
    return np.asarray(edge)


def terms(prior: RiskPrior, place: int, theta: Array, evidence: Evidence) -> Terms:
    """One risk's part in every run."""
    beyond = evidence.at[:, place] - edge_at(prior, theta, evidence.help, evidence.warmth)
    width = np.exp(theta[:, WIDTH])[:, None]
    y = beyond / width
    offset = spread_class(theta[:, RATIO])[:, None]
    growth = theta[:, GROWTH][:, None]
    held = _for(evidence.held, y, growth, offset)
    by = np.where(evidence.by == evidence.held, held, _for(evidence.by, y, growth, offset))
    return Terms(held, by, log_start(prior, theta, beyond))


def log_start(prior: RiskPrior, theta: Array, beyond: Array) -> Array:
    """Log of the chance to start so many spans past the edge, shape (n, m) -> (n, m)."""
    if not prior.risk.starts:
        return np.zeros_like(beyond)
    gone = (beyond - np.exp(theta[:, GAP])[:, None]) / np.exp(theta[:, WIDTH])[:, None]
    return np.asarray(-np.exp(np.minimum(gone, 3.5)))


def _for(time: Array, y: Array, growth: Array, offset: Array) -> Array:
    """Log of the chance to hold for each run's `time`."""
    if not time.any():
        return np.zeros_like(y)
    later = np.log(np.maximum(time, 1e-9))
    grown = y + np.where(later < 0, growth * later, later)
    return np.where(time > 0, log_survival(grown, offset), 0.0)


def log_likelihood(every: list[Terms], evidence: Evidence) -> Array:
    """Of each particle, shape (n,); suspicions aside."""
    held = np.exp(np.sum([t.held for t in every], axis=0) + STRAY * evidence.held)
    by = np.exp(np.sum([t.by for t in every], axis=0) + STRAY * evidence.by)
    started = np.exp(np.sum([t.started for t in every], axis=0) + STRAY_START)
    ran = started * np.where(evidence.failed > 0, held - by, held)
    each = np.where(evidence.unstarted > 0, 1 - started, ran)
    return np.asarray(np.log(np.maximum(each, _FLOOR)) @ evidence.weight)


def shares(every: list[Terms], evidence: Evidence) -> Array:
    """Each cause's share in each run that failed, the stray one last, shape (n, runs, k + 1).

    A risk's share is that of its hazard over the time in which the run failed; suspicions aside.
    """
    unstarted = evidence.unstarted > 0
    hazards = [np.where(unstarted, -t.started, np.maximum(t.held - t.by, 0.0)) for t in every]
    stray = np.where(unstarted, -STRAY_START, -STRAY * (evidence.by - evidence.held))
    hazards.append(np.broadcast_to(stray, hazards[0].shape))
    stacked = np.stack(hazards, axis=2)
    return np.asarray(stacked / np.maximum(stacked.sum(axis=2, keepdims=True), 1e-300))
