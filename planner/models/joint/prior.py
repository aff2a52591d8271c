"""What is thought of each risk before any run.

Each risk has a row of numbers, and particles hold a draw of each:

    X         where the edge lies with the supports at stock, as a share of the way from the stock
              value to the hardest one; gamma-distributed about the typical share
    WIDTH     log of the edge's width, in spans
    RATIO     log of the run-to-run spread, in widths
    GROWTH    power of time with which a run's hazard adds up
    WARMTH    log of what 10 K of room cost, in spans
    GAP       log of how far past its edge it fails to start, in spans
    two for each support: log of the gain, in spans at the everyday ceiling, and the fold

The typical share is common to all risks and itself unknown: where the first edges are found tells
where to look for the others. Knobs of like units (cores) lie closer about a typical share of their
own family, so that each unit's edge is pulled towards the others' as far as its own runs leave open
(partial pooling). A support at coordinate `v` moves the edge by
`gain x (v - fold x v^2)`: its help saturates and folds back, because heat feeds itself.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import gamma, log, pi, sqrt

import numpy as np

from planner.models.hazard import Array
from planner.models.joint.layout import Layout, Risk

X, WIDTH, RATIO, GROWTH, WARMTH, GAP, FIRST_SUPPORT = range(7)

TYPICAL, TYPICAL_SD = log(0.45), 0.45
"""Log of the typical share of the way to the hardest value, and its standard deviation."""
_SHAPE = 4.0
"""Of the gamma distribution of a share about the typical one: standard deviation half the mean."""
_FAMILY_SHAPE, _FAMILY_SD = 20.0, 0.35
"""The same about a family's typical share, and the log deviation of that from the common one."""
_ODD = 0.02
"""Weight of edges that lie anywhere, unsound stock values included."""
_ODD_MEAN, _ODD_SD = 0.5, 0.5
_ODDS = _ODD / (_ODD_SD * sqrt(2 * pi))
_USUAL_STEPS = 40.0
_WIDTH_STEPS, _WIDTH_SD = 0.2, 0.6
_RATIO_SD = 0.5
_WARMTH, _WARMTH_SD = log(0.015), 0.8
_GAP, _GAP_SD = log(0.15), 0.7
_GAIN_SD = 0.6
_FOLD_MEAN, _FOLD_TOP = 0.4, 4.0
"""Of the exponential distribution of folds; from 1 on the everyday ceiling is worse than stock."""
_GROWTH_TOP = 3.0


@dataclass(frozen=True)
class RiskPrior:
    """The prior of one risk; draws have shape (n, d)."""

    risk: Risk
    centre: int = 0
    """Which typical share it lies about: 0 for the common one, else its family's."""

    @property
    def width(self) -> float:
        """Median width, in spans."""
        assert self.risk.knob.grid is not None
        steps = max(self.risk.knob.grid.size - 1, 1)
        return _WIDTH_STEPS * max(1.0, steps / _USUAL_STEPS) / steps

    @cached_property
    def _normal(self) -> Array:
        """Mean and standard deviation of the normal columns, (2, d); infinite for the others."""
        columns = [
            (0.0, np.inf),
            (log(self.width), _WIDTH_SD),
            (0.0, _RATIO_SD),
            (0.0, np.inf),
            (_WARMTH, _WARMTH_SD),
            (_GAP, _GAP_SD),
        ]
        for gain in self.risk.gain:
            columns += [(log(gain), _GAIN_SD), (0.0, np.inf)]
        return np.array(columns).T

    @cached_property
    def _folds(self) -> list[int]:
        """The columns of the folds."""
        return [FIRST_SUPPORT + 2 * i + 1 for i in range(len(self.risk.gain))]

    def draw(self, rng: np.random.Generator, typical: Array) -> Array:
        """One draw for each typical share (as logs, shape (n,))."""
        n = len(typical)
        share = rng.gamma(self._shape, np.exp(typical) / self._shape)
        odd = rng.random(n) < _ODD
        share = np.where(odd, rng.normal(_ODD_MEAN, _ODD_SD, n), share)
        if self._expected is not None:
            share = rng.normal(*self._expected, n)
        means, sds = self._normal
        theta = means + np.where(np.isfinite(sds), sds, 0.0) * rng.standard_normal((n, len(means)))
        theta[:, GROWTH] = rng.uniform(1.0, _GROWTH_TOP, n)
        folds = rng.exponential(_FOLD_MEAN, (n, len(self._folds)))
        theta[:, self._folds] = np.minimum(folds, _FOLD_TOP)
        theta[:, X] = share
        return np.asarray(theta)

    def log_density(self, theta: Array, typical: Array) -> Array:
        """Up to a constant, shape (n,); -inf outside."""
        means, sds = self._normal
        total = self.share_density(theta[:, X], typical)
        total = total - 0.5 * (((theta - means) / sds) ** 2).sum(axis=1)
        growth, folds = theta[:, GROWTH], theta[:, self._folds]
        total = total - folds.sum(axis=1) / _FOLD_MEAN
        within = (growth >= 1.0) & (growth <= _GROWTH_TOP)
        within &= ((folds >= 0.0) & (folds <= _FOLD_TOP)).all(axis=1)
        return np.where(within, total, -np.inf)

    def share_density(self, share: Array, typical: Array) -> Array:
        """Log density of where the edge lies, given the typical share."""
        if self._expected is not None:
            mean, sd = self._expected
            return np.asarray(-0.5 * ((share - mean) / sd) ** 2)
        of_mean = np.maximum(share, 1e-9) * np.exp(-typical)
        shape = self._shape
        log_gamma = (shape - 1) * np.log(of_mean) - shape * of_mean - typical
        usual = (1 - _ODD) * shape**shape / gamma(shape) * np.exp(log_gamma) * (share > 0)
        odd = _ODDS * np.exp(-0.5 * ((share - _ODD_MEAN) / _ODD_SD) ** 2)
        return np.asarray(np.log(usual + odd + 1e-300))

    def edge(self, theta: Array) -> Array:
        """The edge with the supports at stock, in spans, shape (n,)."""
        return np.asarray(self.risk.stock + theta[:, X] * self.risk.way)

    @property
    def _shape(self) -> float:
        """Of the gamma distribution of the share."""
        return _FAMILY_SHAPE if self.centre else _SHAPE

    @cached_property
    def _expected(self) -> tuple[float, float] | None:
        """Mean and standard deviation of the share, if the study says where the edge lies."""
        expected, grid = self.risk.knob.expected, self.risk.knob.grid
        if expected is None or grid is None:
            return None
        ends = [self.risk.knob.hardness(end) / max(grid.size - 1, 1) for end in expected]
        low, high = ((end - self.risk.stock) / self.risk.way for end in sorted(ends))
        return (low + high) / 2, max((high - low) / 2.56, 0.02)


def priors_of(layout: Layout) -> tuple[RiskPrior, ...]:
    """The prior of each risk."""
    families = [risk.knob.family for risk in layout.risks]
    known = [name for name in dict.fromkeys(families) if name and families.count(name) > 1]
    centres = {name: place for place, name in enumerate(known, 1)}
    return tuple(RiskPrior(risk, centres.get(risk.knob.family, 0)) for risk in layout.risks)


def draw_typical(rng: np.random.Generator, priors: Sequence[RiskPrior], count: int) -> Array:
    """Logs of the common typical share and of each family's, shape (n, 1 + f)."""
    families = max((prior.centre for prior in priors), default=0)
    common = rng.normal(TYPICAL, TYPICAL_SD, (count, 1))
    return np.concatenate([common, common + rng.normal(0, _FAMILY_SD, (count, families))], axis=1)


def typical_density(typical: Array) -> Array:
    """Log density of typical shares (n, 1 + f), up to a constant, shape (n,)."""
    common = typical[:, :1]
    families = (((typical[:, 1:] - common) / _FAMILY_SD) ** 2).sum(axis=1)
    return np.asarray(-0.5 * (((common[:, 0] - TYPICAL) / TYPICAL_SD) ** 2 + families))
