"""Shifts of whole groups as numbers: their prior, and the offsets that they come to.

A group's row holds its shifts and, where boots shift it, the log of their standard deviation in
shares of the way. How each boot lies in that spread is standard normal.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import log

import numpy as np

from planner.models.hazard import Array
from planner.models.joint.columns import Columns, Places
from planner.models.joint.likelihood import Offset
from planner.models.joint.shifts import Shared
from planner.models.joint.survival import Single

BOOT, BOOT_SD = log(0.012), 0.8
"""Log of the usual standard deviation of boots, and its standard deviation."""


@dataclass(frozen=True)
class GroupPrior:
    """The prior of one group's row; draws have shape (n, e)."""

    shared: Shared

    @property
    def _normal(self) -> Array:
        """Mean and standard deviation of each column, shape (2, e)."""
        columns = [(shift.mean, shift.sd) for shift in self.shared.shifts]
        if self.shared.boots:
            columns.append((BOOT, BOOT_SD))
        return np.array(columns).T

    def draw(self, rng: np.random.Generator, count: int) -> Array:
        """So many rows."""
        means, sds = self._normal
        return np.asarray(means + sds * rng.standard_normal((count, len(means))))

    def log_density(self, theta: Array) -> Array:
        """Up to a constant, shape (n,)."""
        means, sds = self._normal
        return np.asarray(-0.5 * (((theta - means) / sds) ** 2).sum(axis=1))

    def shift(self, theta: Array, stood: Array) -> Array:
        """Of what stood shifted (m, c) by no boot that is known, shape (n, m)."""
        return np.asarray(theta[:, : len(self.shared.shifts)] @ stood.T)

    def boot_spread(self, theta: Array) -> Array:
        """Standard deviation of boots in shares of the way, shape (n,)."""
        return np.exp(theta[:, -1]) if self.shared.boots else np.zeros(len(theta))


def groups_of(groups: Sequence[GroupPrior]) -> dict[int, int]:
    """The group with shifts of each risk that has one, both by their place."""
    return {risk: place for place, group in enumerate(groups) for risk in group.shared.risks}


@dataclass(frozen=True)
class Shifting:
    """How some runs stand shifted in one group."""

    shared: Shared
    points: Single
    """1 where a point stood shifted, shape (c, p)."""
    starts: Single
    """The same of the start's edge in each run, shape (c, r)."""
    boot: Places
    """The boot of each run, shape (r,)."""
    point_boot: Places
    """The boot of each point, shape (p,)."""

    def offset(self, theta: Array, boots: Array) -> Offset:
        """For particles (n, e) and how their boots lie (n, b)."""
        count = len(self.shared.shifts)
        shifts = theta[:, :count].astype(np.float32)
        held, started = shifts @ self.points, shifts @ self.starts
        if self.shared.boots:
            each = (np.exp(theta[:, count])[:, None] * boots).astype(np.float32)
            held += each[:, self.point_boot]
            started += each[:, self.boot]
        return Offset(held, started)


def shifting_of(columns: Columns, shared: Shared, group: int) -> Shifting:
    """How the runs stand shifted in one group."""
    stood = columns.evidence.shifted[group].T.astype(np.float32)
    starts = np.array([shift.starts for shift in shared.shifts], bool)[:, None]
    boot = columns.evidence.boot
    return Shifting(
        shared, stood[:, columns.point_run], stood * starts, boot, boot[columns.point_run]
    )
