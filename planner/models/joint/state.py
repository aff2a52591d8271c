"""Particles on their way: rows of numbers with what the runs say of them."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from planner.models.hazard import Array
from planner.models.joint.columns import Columns, Places, columns_of
from planner.models.joint.evidence import Evidence
from planner.models.joint.likelihood import Asked, Offset, Terms, Verdicts, asked_of, shares
from planner.models.joint.prior import RiskPrior
from planner.models.joint.shifting import GroupPrior, Shifting, groups_of, shifting_of
from planner.models.joint.survival import Single


@dataclass(frozen=True)
class Told:
    """Runs that the particles know already, and runs that they are being told."""

    priors: tuple[RiskPrior, ...]
    groups: tuple[GroupPrior, ...]
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

    @cached_property
    def shifting(self) -> tuple[Shifting, ...]:
        """How the runs stand shifted, group by group."""
        return tuple(
            shifting_of(self.columns, group.shared, g) for g, group in enumerate(self.groups)
        )

    @cached_property
    def group_of(self) -> dict[int, int]:
        """The group with shifts of each risk that has one."""
        return groups_of(self.groups)

    def each(self, every: list[Terms], total: Terms) -> Single:
        """Log likelihood of each run, shape (n, r)."""
        logs = self._verdicts.logs(total)
        suspicious = self._suspicious
        if len(suspicious):
            share = shares(every, self.columns, suspicious)
            likely = (share * self.columns.evidence.suspected[suspicious]).sum(axis=2)
            logs[:, suspicious] += np.log(np.maximum(likely, 1e-12)).astype(np.float32)
        return logs

    def logs(self, every: list[Terms], total: Terms) -> Array:
        """Log likelihood of the known and of the new runs, shape (n, 2)."""
        return np.asarray(self.each(every, total) @ self.weights)


@dataclass
class Draws:
    """`n` draws of all that is unknown."""

    rows: list[Array]
    """Of each risk, shape (n, d)."""
    typical: Array
    """Logs of the common typical share and of each family's, shape (n, 1 + f)."""
    groups: list[Array]
    """Of each group with shifts, shape (n, e)."""
    boots: list[Array]
    """Of each such group, how each boot lies in its spread, shape (n, b) or (n, 0)."""

    def chosen(self, which: slice | Places) -> "Draws":
        """Some of them."""
        parts = (self.rows, self.groups, self.boots)
        rows, groups, boots = ([each[which] for each in part] for part in parts)
        return Draws(rows, self.typical[which], groups, boots)


@dataclass
class State:
    """Particles between two powers of the new runs."""

    told: Told
    draws: Draws
    offsets: list[Offset]
    """Of each group with shifts."""
    terms: list[Terms]
    total: Terms
    logs: Array
    """Log likelihood of the known and of the new runs, shape (n, 2)."""
    beliefs: Array
    """Log prior density of each risk's row, shape (k, n)."""

    @property
    def count(self) -> int:
        """How many particles there are."""
        return len(self.draws.typical)

    def offset(self, risk: int) -> Offset | None:
        """By how much a risk's edge stands shifted; None: nothing shifts it."""
        group = self.told.group_of.get(risk)
        return None if group is None else self.offsets[group]

    def chosen(self, which: Places) -> "State":
        """Some of the particles; the sums worked out anew, so that no rounding gathers."""
        terms = [each.rows(which) for each in self.terms]
        return State(
            self.told,
            self.draws.chosen(which),
            [each.rows(which) for each in self.offsets],
            terms,
            summed(terms),
            self.logs[which],
            self.beliefs[:, which],
        )


def state_of(told: Told, draws: Draws) -> State:
    """The state of given draws."""
    offsets = [
        shifting.offset(theta, boots)
        for shifting, theta, boots in zip(told.shifting, draws.groups, draws.boots, strict=True)
    ]
    terms = []
    for k, (asked, row) in enumerate(zip(told.asked, draws.rows, strict=True)):
        group = told.group_of.get(k)
        terms.append(asked.terms(row, None if group is None else offsets[group]))
    total = summed(terms)
    beliefs = [
        prior.log_density(row, draws.typical[:, prior.centre])
        for prior, row in zip(told.priors, draws.rows, strict=True)
    ]
    logs = told.logs(terms, total)
    return State(told, draws, offsets, terms, total, logs, np.array(beliefs))


def summed(terms: list[Terms]) -> Terms:
    """The terms of all risks together."""
    held = terms[0].held.copy()
    for each in terms[1:]:
        held += each.held
    started = [each.started for each in terms if each.started is not None]
    return Terms(held, np.asarray(np.sum(started, axis=0)) if started else None)


def told_of(
    priors: tuple[RiskPrior, ...],
    groups: tuple[GroupPrior, ...],
    evidence: Evidence,
    known: Places,
    stage: Places,
) -> Told:
    """The runs of one stage; those `known` were told before."""
    columns = columns_of(evidence.only(stage))
    old = np.isin(stage[columns.rows], known)
    weight = columns.evidence.weight
    weights = np.stack([np.where(old, weight, 0.0), np.where(old, 0.0, weight)], axis=1)
    return Told(priors, groups, columns, weights.astype(np.float32))
