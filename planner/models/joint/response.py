"""How one score answers to the knobs, from the runs that passed uncapped.

The log of a score is a sum of one curve for each knob (an additive Gaussian process: Rasmussen
and Williams 2006, section 2 and 5, from memory). A knob's curve is its elasticity times the log of
its value against stock, a timing counting by the time it stands for, and a smooth departure from
that, free to bend down: graphics memory loses score to replay, power limits take it. Elasticities
are modest and mostly positive towards harder values beforehand. How strong they are, and how much
scores differ from run to run, is fitted by the marginal likelihood on a small grid.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import product

import numpy as np

from planner.domain.knob import Harder, Knob, Value
from planner.domain.run import Run
from planner.history import History
from planner.models.hazard import Array
from planner.models.joint.evidence import ROOM
from planner.models.joint.layout import Layout, layout_of

_ELASTICITY, _ELASTICITY_SD = 0.15, 0.15
_STRENGTHS = (0.3, 1.0, 2.5)
"""Factors by which elasticities may be stronger or weaker than usual."""
_NOISES = (0.0005, 0.001, 0.002, 0.004, 0.008, 0.02, 0.05)
_NOISE_CENTRE, _NOISE_SD = np.log(0.003), 1.0
_DEPARTURE = 0.35
"""Standard deviation of the departure, as a share of what the usual elasticity gains over the
range."""
_SMOOTH = 0.3
"""Over which share of the range a departure changes."""
_WARM_SD = 0.01
"""Standard deviation of what 10 K of room take of the log score."""
_SUM_NOISE, _WEIGHT_SD = 0.0005, 0.2
"""How far a composite strays from a weighted sum of logs, and weights from being alike."""
_LONGEST = 0.6
"""Largest log ratio over a knob's range that its elasticity is taken for."""


@dataclass(frozen=True)
class Curve:
    """The log of one score or sub-score as a Gaussian process over settings."""

    spans: Array
    """Log ratio from stock to the hardest value of each knob, shape (q,)."""
    leans: Array
    """Elasticity expected beforehand, shape (q,)."""
    seen: Array
    """Coordinates of the scored runs, shape (n, q)."""
    warmth: Array
    scores: Array
    """Logs of the scores, shape (n,)."""

    @cached_property
    def _fit(self) -> tuple[float, float, Array, Array]:
        """Strength, noise, and the solved system at the best of them."""
        best = None
        for strength, noise in product(_STRENGTHS, _NOISES):
            gram = self._kernel(self.seen, self.warmth, self.seen, self.warmth, strength)
            gram[np.diag_indices(len(gram))] += noise**2
            residual = self.scores - self._mean(self.seen, strength)
            lower = np.linalg.cholesky(gram)
            white = np.linalg.solve(lower, residual)
            ones = np.linalg.solve(lower, np.ones(len(gram)))
            level = float(ones @ white / (ones @ ones))
            white = white - level * ones
            fit = -0.5 * white @ white - np.log(np.diag(lower)).sum() - 0.5 * np.log(ones @ ones)
            fit += -0.5 * ((np.log(noise) - _NOISE_CENTRE) / _NOISE_SD) ** 2
            fit += -0.5 * (np.log(strength) / 0.7) ** 2
            if best is None or fit > best[0]:
                best = (float(fit), strength, noise, level, lower, white)
        assert best is not None
        _, strength, noise, level, lower, white = best
        solved = np.append(np.linalg.solve(lower.T, white), level)
        return strength, noise, np.asarray(lower, float), np.asarray(solved, float)

    @property
    def noise(self) -> float:
        """Run-to-run standard deviation of the score, as a share of it."""
        return self._fit[1]

    def predict(self, at: Array, room: float = ROOM) -> tuple[Array, Array]:
        """Mean and standard deviation of the log score at coordinates (m, q), two of (m,)."""
        strength, _, lower, solved = self._fit
        warmth = np.full(len(at), (room - ROOM) / 10)
        cross = self._kernel(at, warmth, self.seen, self.warmth, strength)
        mean = self._mean(at, strength) + solved[-1] + cross @ solved[:-1]
        white = np.linalg.solve(lower, cross.T)
        variance = self._own(at, warmth, strength) - (white**2).sum(axis=0)
        return mean, np.sqrt(np.maximum(variance, 1e-12))

    def _mean(self, at: Array, strength: float) -> Array:
        return np.asarray(at @ (strength * self.leans * self.spans))

    def _kernel(
        self, one: Array, warm_one: Array, two: Array, warm_two: Array, strength: float
    ) -> Array:
        slopes = strength * _ELASTICITY_SD * self.spans
        total = (one * slopes**2) @ two.T
        for q, scale in enumerate(self._departures(strength)):
            apart = (one[:, None, q] - two[None, :, q]) / _SMOOTH
            from_stock = _bump(one[:, q])[:, None] * _bump(two[:, q])[None, :]
            total += scale**2 * (np.exp(-0.5 * apart**2) - from_stock)
        return np.asarray(total + _WARM_SD**2 * np.outer(warm_one, warm_two))

    def _own(self, at: Array, warmth: Array, strength: float) -> Array:
        slopes = strength * _ELASTICITY_SD * self.spans
        total = (at**2) @ slopes**2 + _WARM_SD**2 * warmth**2
        departures = self._departures(strength)
        return np.asarray(total + (1 - _bump(at) ** 2) @ departures**2)

    def _departures(self, strength: float) -> Array:
        return _DEPARTURE * strength * (_ELASTICITY + _ELASTICITY_SD) * self.spans


def _bump(at: Array) -> Array:
    """Correlation with the departure at stock, which is none."""
    return np.asarray(np.exp(-0.5 * (at / _SMOOTH) ** 2))


def _support_place(knob: Knob, value: Value) -> float:
    if isinstance(value, str) or isinstance(knob.stock, str) or knob.grid is None:
        return 0.0
    return (value - knob.stock) / max(knob.grid.high - knob.grid.low, 1e-9)


@dataclass(frozen=True)
class Response:
    """The log score: a weighted sum of the curves of its sub-scores, or one curve of its own."""

    layout: Layout
    knobs: tuple[Knob, ...]
    curves: tuple[Curve, ...]
    weights: Array
    """What a log sub-score counts for, shape (c,)."""
    level: float

    @property
    def noise(self) -> float:
        """Run-to-run standard deviation of the score, as a share of it."""
        each = np.array([curve.noise for curve in self.curves])
        return float(np.sqrt(((self.weights * each) ** 2).sum()))

    def predict(self, at: Array, room: float = ROOM) -> tuple[Array, Array]:
        """Mean and standard deviation of the log score at coordinates (m, q), two of (m,)."""
        mean, variance = np.full(len(at), self.level), np.zeros(len(at))
        for weight, curve in zip(self.weights, self.curves, strict=True):
            each, sd = curve.predict(at, room)
            mean += weight * each
            variance += (weight * sd) ** 2
        return mean, np.sqrt(variance)

    def coordinates(self, settings: Sequence[Mapping[str, Value]]) -> Array:
        """Of every knob, in spans from stock towards harder, shape (m, q)."""
        return _coordinates(self.layout, self.knobs, settings)


def _coordinates(
    layout: Layout, knobs: Sequence[Knob], settings: Sequence[Mapping[str, Value]]
) -> Array:
    places = {name: i for i, name in enumerate(layout.names)}
    at = layout.coordinates(settings)
    columns = []
    for knob in knobs:
        if knob.name in places:
            risk = layout.risks[places[knob.name]]
            columns.append((at[:, places[knob.name]] - risk.stock) / max(1 - risk.stock, 0.05))
        else:
            columns.append(np.array([_support_place(knob, s[knob.name]) for s in settings]))
    return np.stack(columns, axis=1) if columns else np.zeros((len(settings), 0))


def response_of(history: History) -> Response | None:
    """The response as the runs show it; None where nothing scored yet."""
    layout = layout_of(history.definition)
    workload = history.definition.workload
    told = [r for r in history.evidence if r.workload == workload.name and _scored(r)]
    if not told:
        return None
    knobs = tuple(
        k
        for k in history.definition.knobs.values()
        if k.grid is not None and k.harder is not Harder.CHOICE
    )
    risks = set(layout.names)
    spans = np.array([_log_span(k) for k in knobs])
    leans = np.array([_ELASTICITY if k.name in risks else 0.0 for k in knobs])
    seen = _coordinates(layout, knobs, [r.ran for r in told])
    warmth = np.array([(r.readings.get("room", ROOM) - ROOM) / 10 for r in told])
    scores = np.log(np.array([r.score for r in told], float))
    names = [name for name, _ in workload.subscores]
    if names and all(r.subscores.get(name, 0) > 0 for r in told for name in names):
        logs = np.log(np.array([[r.subscores[name] for name in names] for r in told]))
    else:
        logs = scores[:, None]
    weights = _weights(scores, logs)
    curves = tuple(Curve(spans, leans, seen, warmth, column) for column in logs.T)
    return Response(layout, knobs, curves, weights, float((scores - logs @ weights).mean()))


def _weights(scores: Array, logs: Array) -> Array:
    """What each log sub-score counts for: near alike, unless the runs tell otherwise.

    Every mean of sub-scores is, in logs and near one point, a weighted sum.
    """
    count = logs.shape[1]
    alike = np.full(count, 1 / count)
    if count == 1:
        return alike
    x = logs - logs.mean(axis=0)
    y = scores - scores.mean() - x @ alike
    ridge = (_SUM_NOISE / _WEIGHT_SD) ** 2
    return np.asarray(alike + np.linalg.solve(x.T @ x + ridge * np.eye(count), x.T @ y))


def _scored(run: Run) -> bool:
    return run.best_score is not None and run.best_score > 0


def _log_span(knob: Knob) -> float:
    """Log ratio of the hardest value against stock; a support's whole range."""
    grid = knob.grid
    assert grid is not None, knob.name
    if isinstance(knob.stock, str) or min(grid.low, knob.stock) <= 0:
        return 0.2
    hardest = grid.low if knob.harder is Harder.DOWN else grid.high
    if knob.supports:
        return float(min(np.log(grid.high / grid.low), _LONGEST))
    return float(np.clip(abs(np.log(hardest / knob.stock)), 0.01, _LONGEST))
