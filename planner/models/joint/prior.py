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
where to look for the others. A support at coordinate `v` moves the edge by
`gain x (v - fold x v^2)`: its help saturates and folds back.
"""

from dataclasses import dataclass
from math import lgamma, log

import numpy as np

from planner.models.hazard import Array
from planner.models.joint.layout import Layout, Risk

X, WIDTH, RATIO, GROWTH, WARMTH, GAP, FIRST_SUPPORT = range(7)

TYPICAL, TYPICAL_SD = log(0.45), 0.45
"""Log of the typical share of the way to the hardest value, and its standard deviation."""
_SHAPE = 4.0
"""Of the gamma distribution of a share about the typical one: standard deviation half the mean."""
_ODD = 0.02
"""Weight of edges that lie anywhere, unsound stock values included."""
_ODD_MEAN, _ODD_SD = 0.5, 0.5
_USUAL_STEPS = 40.0
_WIDTH_STEPS, _WIDTH_SD = 0.35, 0.8
_RATIO_SD = 0.8
_WARMTH, _WARMTH_SD = log(0.015), 0.8
_GAP, _GAP_SD = log(0.15), 0.7
_GAIN_SD = 0.6
_FOLD_TOP = 0.8
_GROWTH_TOP = 3.0


@dataclass(frozen=True)
class RiskPrior:
    """The prior of one risk; draws have shape (n, d)."""

    risk: Risk

    @property
    def width(self) -> float:
        """Median width, in spans."""
        assert self.risk.knob.grid is not None
        steps = max(self.risk.knob.grid.size - 1, 1)
        return _WIDTH_STEPS * max(1.0, steps / _USUAL_STEPS) / steps

    def draw(self, rng: np.random.Generator, typical: Array) -> Array:
        """One draw for each typical share (as logs, shape (n,))."""
        n = len(typical)
        share = rng.gamma(_SHAPE, np.exp(typical) / _SHAPE)
        odd = rng.random(n) < _ODD
        share = np.where(odd, rng.normal(_ODD_MEAN, _ODD_SD, n), share)
        if (expected := self._expected()) is not None:
            share = rng.normal(*expected, n)
        columns = [
            share,
            rng.normal(log(self.width), _WIDTH_SD, n),
            rng.normal(0.0, _RATIO_SD, n),
            rng.uniform(1.0, _GROWTH_TOP, n),
            rng.normal(_WARMTH, _WARMTH_SD, n),
            rng.normal(_GAP, _GAP_SD, n),
        ]
        for gain in self.risk.gain:
            columns += [rng.normal(log(gain), _GAIN_SD, n), rng.uniform(0, _FOLD_TOP, n)]
        return np.stack(columns, axis=1)

    def log_density(self, theta: Array, typical: Array) -> Array:
        """Up to a constant, shape (n,); -inf outside."""
        total = self.share_density(theta[:, X], typical)
        for column, centre, sd in (
            (WIDTH, log(self.width), _WIDTH_SD),
            (RATIO, 0.0, _RATIO_SD),
            (WARMTH, _WARMTH, _WARMTH_SD),
            (GAP, _GAP, _GAP_SD),
        ):
            total = total - 0.5 * ((theta[:, column] - centre) / sd) ** 2
        within = (theta[:, GROWTH] >= 1) & (theta[:, GROWTH] <= _GROWTH_TOP)
        for i, gain in enumerate(self.risk.gain):
            at = FIRST_SUPPORT + 2 * i
            total = total - 0.5 * ((theta[:, at] - log(gain)) / _GAIN_SD) ** 2
            within &= (theta[:, at + 1] >= 0) & (theta[:, at + 1] <= _FOLD_TOP)
        return np.where(within, total, -np.inf)

    def share_density(self, share: Array, typical: Array) -> Array:
        """Log density of where the edge lies, given the typical share."""
        if (expected := self._expected()) is not None:
            return np.asarray(-0.5 * ((share - expected[0]) / expected[1]) ** 2)
        mean = np.exp(typical)
        positive = np.maximum(share, 1e-9)
        log_gamma = (
            _SHAPE * (log(_SHAPE) - typical)
            - lgamma(_SHAPE)
            + (_SHAPE - 1) * np.log(positive)
            - _SHAPE * positive / mean
        )
        usual = np.where(share > 0, np.exp(log_gamma), 0.0)
        odd = np.exp(-0.5 * ((share - _ODD_MEAN) / _ODD_SD) ** 2) / (_ODD_SD * np.sqrt(2 * np.pi))
        return np.asarray(np.log((1 - _ODD) * usual + _ODD * odd + 1e-300))

    def edge(self, theta: Array) -> Array:
        """The edge with the supports at stock, in spans, shape (n,)."""
        return np.asarray(self.risk.stock + theta[:, X] * self.way)

    @property
    def way(self) -> float:
        """Spans from the stock value to the hardest one."""
        return max(1.0 - self.risk.stock, 0.05)

    def _expected(self) -> tuple[float, float] | None:
        """Mean and standard deviation of the share, if the study says where the edge lies."""
        expected, grid = self.risk.knob.expected, self.risk.knob.grid
        if expected is None or grid is None:
            return None
        ends = [self.risk.knob.hardness(end) / max(grid.size - 1, 1) for end in expected]
        low, high = ((end - self.risk.stock) / self.way for end in sorted(ends))
        return (low + high) / 2, max((high - low) / 2.56, 0.02)


def priors_of(layout: Layout) -> tuple[RiskPrior, ...]:
    """The prior of each risk."""
    return tuple(RiskPrior(risk) for risk in layout.risks)
