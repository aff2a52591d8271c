"""How one score or sub-score answers to the knobs.

The log of a score is a level, plus for each knob an elasticity times the log of its value against
stock (a timing counting by the time it stands for), plus a smooth departure from that, free to
bend down: graphics memory loses score to replay, power limits take it. Most sub-scores answer to
few knobs, so an elasticity is either near none or a good part of one (a spike and a slab: George
and McCulloch 1993, from memory). Departures are a Gaussian process for each knob (Rasmussen and
Williams 2006, section 2, from memory); given them and the noise, the elasticities are drawn by
Gibbs sampling in chains that run side by side, from the same seed each time.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from planner.models.hazard import Array
from planner.models.joint.evidence import ROOM

SLAB, SLAB_SD = 0.35, 0.25
"""Elasticity of a knob that a score answers to, and its standard deviation."""
SPIKE_SD = 0.02
ANSWERS, SUPPORT_ANSWERS = 0.45, 0.1
"""How likely a score answers to a knob that can fail, and to a support."""
_NOISES = (0.0005, 0.001, 0.002, 0.004, 0.008, 0.02, 0.05)
_NOISE_CENTRE, _NOISE_SD = float(np.log(0.003)), 1.0
_DEPARTURE = 0.03
"""Standard deviation of the departure, as an elasticity over the whole range."""
_SMOOTH = 0.3
"""Over which share of the range a departure changes."""
_WARM_SD = 0.01
"""Standard deviation of what 10 K of room take of the log score."""
_LEVEL_SD = 0.1
_CHAINS, _SWEEPS, _KEPT = 64, 24, (11, 15, 19, 23)


@dataclass(frozen=True)
class Curve:
    """The log of one score over settings, as draws of elasticities and a departure."""

    spans: Array
    """Log ratio from stock to the hardest value of each knob, shape (q,)."""
    pulls: Array
    """How large each knob's elasticity may be against a clock's; 0: likely none, shape (q,)."""
    seen: Array
    """Coordinates of the scored runs, shape (n, q)."""
    warmth: Array
    scores: Array
    """Logs of the scores, shape (n,)."""
    place: int = 0
    """Among the curves that make up a score: no two of them draw alike."""

    @cached_property
    def noise(self) -> float:
        """Run-to-run standard deviation of the score, as a share of it."""
        weights, means, sds = self._mixture()
        slopes = (weights * (means**2 + sds**2))[1, : len(self.spans)]
        linear = (self.seen * self.spans) * np.sqrt(slopes)
        smooth = linear @ linear.T + self._departure(self.seen, self.seen)
        smooth += _WARM_SD**2 * np.outer(self.warmth, self.warmth) + _LEVEL_SD**2
        residual = self.scores - self.scores[0]
        best, chosen = -np.inf, _NOISES[0]
        for noise in _NOISES:
            lower = np.linalg.cholesky(smooth + noise**2 * np.eye(len(smooth)))
            white = np.linalg.solve(lower, residual)
            fit = -0.5 * float(white @ white) - float(np.log(np.diag(lower)).sum())
            fit -= 0.5 * ((np.log(noise) - _NOISE_CENTRE) / _NOISE_SD) ** 2
            if fit > best:
                best, chosen = fit, noise
        return chosen

    @cached_property
    def _whitener(self) -> Array:
        """Inverse of the Cholesky factor of departures and noise over the scored runs."""
        gram = self._departure(self.seen, self.seen)
        return np.asarray(
            np.linalg.inv(np.linalg.cholesky(gram + self.noise**2 * np.eye(len(gram))))
        )

    @cached_property
    def draws(self) -> Array:
        """Draws of every elasticity, of warmth and of the level, shape (s, q + 2)."""
        design = self._design(self.seen, self.warmth)
        target = self._whitener @ (self.scores - self.scores[0])
        rng = np.random.default_rng([len(target), self.place])
        return _gibbs(self._whitener @ design, target, *self._mixture(), rng)

    @cached_property
    def _missed(self) -> Array:
        """What the lines of each draw leave over in the scored runs, whitened, shape (n, s)."""
        missed = self.scores[:, None] - self.scores[0]
        return np.asarray(
            self._whitener @ (missed - self._design(self.seen, self.warmth) @ self.draws.T)
        )

    def _mixture(self) -> tuple[Array, Array, Array]:
        """Weight, mean and standard deviation of both components of each column, (2, q + 2)."""
        likely = np.where(self.pulls > 0, ANSWERS, SUPPORT_ANSWERS)
        means = SLAB * self.pulls
        slab_sds = SLAB_SD * np.where(self.pulls > 0, self.pulls, 1.0)
        rest = np.array([1.0, 1.0])
        weights = np.stack([np.append(1 - likely, rest), np.append(likely, 0 * rest)])
        wide = np.array([_WARM_SD, _LEVEL_SD])
        sds = np.stack(
            [
                np.append(np.full(len(likely), SPIKE_SD), wide),
                np.append(slab_sds, wide),
            ]
        )
        return weights, np.stack([np.zeros(len(likely) + 2), np.append(means, [0.0, 0.0])]), sds

    def predict(self, at: Array, room: float = ROOM) -> tuple[Array, Array]:
        """Mean and standard deviation of the log score at coordinates (m, q), two of (m,)."""
        drawn, variance = self.believed(at, room)
        return drawn.mean(axis=1), _root(drawn.var(axis=1) + variance)

    def believed(self, at: Array, room: float) -> tuple[Array, Array]:
        """The mean in each draw at (m, q), shape (m, s), and the variance about it, (m,)."""
        drawn, cross = self._drawn(at, room)
        return drawn + self.scores[0], np.maximum(self._own(at) - (cross**2).sum(axis=0), 0.0)

    def rise(self, at: Array, over: Array) -> tuple[Array, Array]:
        """Mean and standard deviation of the rise at (m, q) over one place, (1, q), two of (m,)."""
        drawn, cross = self._drawn(np.concatenate([at, over]), ROOM)
        drawn, cross = drawn[:-1] - drawn[-1:], cross[:, :-1] - cross[:, -1:]
        own = self._own(at) + self._own(over) - 2 * self._departure(at, over)[:, 0]
        variance = drawn.var(axis=1) + np.maximum(own - (cross**2).sum(axis=0), 0.0)
        return drawn.mean(axis=1), _root(variance)

    def _drawn(self, at: Array, room: float) -> tuple[Array, Array]:
        """Log score over the first run's in each draw (m, s), whitened cross covariance (n, m)."""
        warmth = np.full(len(at), (room - ROOM) / 10)
        cross = self._whitener @ self._departure(self.seen, at)
        drawn = self._design(at, warmth) @ self.draws.T + cross.T @ self._missed
        return drawn, np.asarray(cross)

    def _own(self, at: Array) -> Array:
        """Variance of the departures before any run, shape (m,)."""
        return np.asarray((1 - _bump(at) ** 2) @ (_DEPARTURE * self.spans) ** 2)

    def _design(self, at: Array, warmth: Array) -> Array:
        return np.column_stack([at * self.spans, warmth, np.ones(len(at))])

    def _departure(self, one: Array, two: Array) -> Array:
        """Covariance of the departures, none at stock."""
        total = np.zeros((len(one), len(two)))
        for q, scale in enumerate(_DEPARTURE * self.spans):
            apart = (one[:, None, q] - two[None, :, q]) / _SMOOTH
            from_stock = _bump(one[:, q])[:, None] * _bump(two[:, q])[None, :]
            total += scale**2 * (np.exp(-0.5 * apart**2) - from_stock)
        return total


def _root(variance: Array) -> Array:
    return np.asarray(np.sqrt(np.maximum(variance, 1e-12)))


def _bump(at: Array) -> Array:
    """Correlation with the departure at stock, which is none."""
    return np.asarray(np.exp(-0.5 * (at / _SMOOTH) ** 2))


def _gibbs(
    design: Array,
    target: Array,
    weights: Array,
    means: Array,
    sds: Array,
    rng: np.random.Generator,
) -> Array:
    """Draws of the coefficients of a whitened regression (n, p), shape (s, p)."""
    count = design.shape[1]
    drawn = np.where(rng.random((_CHAINS, count)) < weights[1], means[1], means[0])
    missed = target - drawn @ design.T  # (chains, n)
    squares = (design**2).sum(axis=0)
    kept = []
    for sweep in range(_SWEEPS):
        for p in range(count):
            pull = missed @ design[:, p] + drawn[:, p] * squares[p]
            variance = 1 / (squares[p] + 1 / sds[:, p] ** 2)  # (2,)
            centre = variance * (pull[:, None] + means[:, p] / sds[:, p] ** 2)
            with np.errstate(divide="ignore"):
                odds = np.log(weights[:, p] * np.sqrt(variance) / sds[:, p])
            odds = odds + 0.5 * centre**2 / variance - 0.5 * (means[:, p] / sds[:, p]) ** 2
            slab = 1 / (1 + np.exp(np.clip(odds[:, 0] - odds[:, 1], -50, 50)))
            which = (rng.random(_CHAINS) < slab).astype(int)
            fresh = centre[np.arange(_CHAINS), which]
            fresh = fresh + np.sqrt(variance[which]) * rng.standard_normal(_CHAINS)
            missed -= (fresh - drawn[:, p])[:, None] * design[:, p]
            drawn[:, p] = fresh
        if sweep in _KEPT:
            kept.append(drawn.copy())
    return np.asarray(np.concatenate(kept))
