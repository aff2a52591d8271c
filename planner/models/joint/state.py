"""Particles on their way: rows of numbers with what the runs say of them."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from planner.models.hazard import Array
from planner.models.joint.columns import Columns, Places, columns_of
from planner.models.joint.evidence import Evidence
from planner.models.joint.likelihood import Asked, Terms, Verdicts, asked_of, shares
from planner.models.joint.prior import RiskPrior


@dataclass(frozen=True)
class Told:
    """Runs that the particles know already, and runs that they are being told."""

    priors: tuple[RiskPrior, ...]
    columns: Columns
    weights: Array
    """What each run counts among the known ones and among the new ones, shape (r, 2)."""

    @cached_property
    def asked(self) -> tuple[Asked, ...]:
        """What the runs ask of each risk."""
        return tuple(asked_of(prior, k, self.columns) for k, prior in enumerate(self.priors))

    @cached_property
    def _verdicts(self) -> Verdicts:
        return Verdicts(self.columns)

    @cached_property
    def _suspicious(self) -> Places:
        return np.flatnonzero((self.columns.evidence.suspected != 1).any(axis=1))

    def logs(self, every: list[Terms], total: Terms) -> Array:
        """Log likelihood of the known and of the new runs, shape (n, 2)."""
        logs = np.asarray(self._verdicts.logs(total) @ self.weights)
        suspicious = self._suspicious
        if len(suspicious):
            share = shares(every, self.columns, suspicious)
            likely = (share * self.columns.evidence.suspected[suspicious]).sum(axis=2)
            logs = logs + np.log(np.maximum(likely, 1e-12)) @ self.weights[suspicious]
        return logs


@dataclass
class State:
    """`n` particles between two powers of the new runs."""

    told: Told
    rows: list[Array]
    """Of each risk, shape (n, d)."""
    typical: Array
    """Log of the typical share, shape (n,)."""
    terms: list[Terms]
    total: Terms
    logs: Array
    """Log likelihood of the known and of the new runs, shape (n, 2)."""
    beliefs: Array
    """Log prior density of each risk's row, shape (k, n)."""

    @property
    def count(self) -> int:
        """How many particles there are."""
        return len(self.typical)

    def chosen(self, which: Places) -> "State":
        """Some of the particles; the sums worked out anew, so that no rounding gathers."""
        rows = [row[which] for row in self.rows]
        terms = [each.rows(which) for each in self.terms]
        typical, logs, beliefs = self.typical[which], self.logs[which], self.beliefs[:, which]
        return State(self.told, rows, typical, terms, summed(terms), logs, beliefs)


def state_of(told: Told, rows: list[Array], typical: Array) -> State:
    """The state of given rows, everything worked out anew."""
    terms = [asked.terms(row) for asked, row in zip(told.asked, rows, strict=True)]
    total = summed(terms)
    beliefs = [p.log_density(row, typical) for p, row in zip(told.priors, rows, strict=True)]
    logs = told.logs(terms, total)
    return State(told, rows, typical, terms, total, logs, np.array(beliefs))


def summed(terms: list[Terms]) -> Terms:
    """The terms of all risks together."""
    held = terms[0].held.copy()
    for each in terms[1:]:
        held += each.held
    started = [each.started for each in terms if each.started is not None]
    return Terms(held, np.asarray(np.sum(started, axis=0)) if started else None)


def told_of(
    priors: tuple[RiskPrior, ...], evidence: Evidence, known: Places, stage: Places
) -> Told:
    """The runs of one stage; those `known` were told before."""
    columns = columns_of(evidence.only(stage))
    old = np.isin(stage[columns.rows], known)
    weight = columns.evidence.weight
    weights = np.stack([np.where(old, weight, 0.0), np.where(old, 0.0, weight)], axis=1)
    return Told(priors, columns, weights.astype(np.float32))
