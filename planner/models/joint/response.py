"""How the score answers to the knobs, from the runs that passed uncapped.

Where every run tells its sub-scores, each has a curve of its own, and the score is their sum by
weights that are fitted too: sub-scores answer to few knobs each, and so tell sooner what pays.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from planner.domain.definition import Definition
from planner.domain.knob import Harder, Knob, Value
from planner.domain.run import Run
from planner.history import History, once
from planner.models.hazard import Array
from planner.models.joint.curve import Curve
from planner.models.joint.evidence import ROOM
from planner.models.joint.layout import Layout, Settings, layout_of, side_by_side

_SUM_NOISE, _WEIGHT_SD = 0.0005, 0.2
"""How far a composite strays from a weighted sum of logs, and weights from being alike."""
_LONGEST = 0.6
"""Largest log ratio over a knob's range that its elasticity is taken for."""
_TIMING_PULL = 0.35
"""Elasticity of a timing against a clock's: it is one of several parts of the way to memory and
back, and that one of several things that a score waits for (common practice, no source)."""
_CHOICE_SPAN = 0.15
"""What a choice's elasticity of one would be worth, as a log ratio."""


def _support_places(knob: Knob, settings: Settings) -> Array:
    if isinstance(knob.stock, str) or knob.grid is None:
        return np.zeros(len(settings.each))
    reach = max(knob.grid.high - knob.grid.low, 1e-9)
    return np.asarray((settings[knob.name] - knob.stock) / reach)


@dataclass(frozen=True)
class Response:
    """The log score: a weighted sum of the curves of its sub-scores, or one curve of its own."""

    layout: Layout
    knobs: tuple[Knob, ...]
    choices: tuple[tuple[str, Value], ...]
    """Choices other than stock's, each worth an offset of its own, in no order."""
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
        return self._summed([curve.predict(at, room) for curve in self.curves], self.level)

    def believed(self, at: Array, room: float = ROOM) -> Array:
        """The mean in each draw at (m, q), shape (m, s).

        Few elasticities are below none, which one mean and one deviation cannot tell.
        """
        found = np.asarray(self.level)
        for weight, curve in zip(self.weights, self.curves, strict=True):
            found = found + weight * curve.believed(at, room)[0]
        return found

    def rise(self, at: Array, over: Array) -> tuple[Array, Array]:
        """Mean and standard deviation of the rise at (m, q) over one place, (1, q), two of (m,)."""
        return self._summed([curve.rise(at, over) for curve in self.curves], 0.0)

    def _summed(self, each: Sequence[tuple[Array, Array]], level: float) -> tuple[Array, Array]:
        """Mean and standard deviation of the weighted sum, from those of each curve."""
        mean, variance = np.full(len(each[0][0]), level), np.zeros(len(each[0][0]))
        for weight, (means, sds) in zip(self.weights, each, strict=True):
            mean += weight * means
            variance += (weight * sds) ** 2
        return mean, np.sqrt(variance)

    def draw(self, at: Array, room: float, rng: np.random.Generator, count: int) -> Array:
        """Draws of what the log score would be at coordinates (m, q), shape (count, m).

        Each curve's draw is picked for itself; what is not known about it is left out.
        """
        found = np.full((count, len(at)), self.level)
        for weight, curve in zip(self.weights, self.curves, strict=True):
            drawn, _ = curve.believed(at, room)
            found += weight * drawn.T[rng.integers(0, 1 << 30, count) % drawn.shape[1]]
        return found

    def coordinates(self, settings: Sequence[Mapping[str, Value]]) -> Array:
        """Of every knob in spans from stock towards harder, then 1 for each choice made, (m, q)."""
        return coordinates_of(self.layout, self.knobs, self.choices, settings)


def answering(definition: Definition) -> tuple[Knob, ...]:
    """The knobs with a range."""
    return tuple(
        k for k in definition.knobs.values() if k.grid is not None and k.harder is not Harder.CHOICE
    )


def coordinates_of(
    layout: Layout,
    knobs: Sequence[Knob],
    choices: Sequence[tuple[str, Value]],
    settings: Sequence[Mapping[str, Value]],
) -> Array:
    """Of some knobs, in spans from stock towards harder, shape (m, q)."""
    places = {name: i for i, name in enumerate(layout.names)}
    at = layout.coordinates(settings)
    given = Settings(layout.definition.stock, settings)
    columns = []
    for knob in knobs:
        if knob.name in places:
            risk = layout.risks[places[knob.name]]
            columns.append((at[:, places[knob.name]] - risk.stock) / risk.way)
        else:
            columns.append(_support_places(knob, given))
    columns += [np.array([float(s[name] == v) for s in settings]) for name, v in choices]
    return side_by_side(columns, len(settings))


@once
def response_of(history: History) -> Response | None:
    """The response as the runs show it; None where nothing scored yet."""
    layout = layout_of(history.definition)
    workload = history.definition.workload
    told = [r for r in history.evidence if r.workload == workload.name and _scored(r)]
    if not told:
        return None
    knobs = answering(history.definition)
    choices = _choices(history.definition)
    risks = set(layout.names)
    spans = np.array([log_span(k) for k in knobs] + [_CHOICE_SPAN] * len(choices))
    pulls = np.array([_pull(k) if k.name in risks else 0.0 for k in knobs] + [0.0] * len(choices))
    seen = coordinates_of(layout, knobs, choices, [r.ran for r in told])
    warmth = np.array([(r.readings.get("room", ROOM) - ROOM) / 10 for r in told])
    scores = np.log(np.array([r.score for r in told], float))
    names = [name for name, _ in workload.subscores]
    if names and all(r.subscores.get(name, 0) > 0 for r in told for name in names):
        logs = np.log(np.array([[r.subscores[name] for name in names] for r in told]))
    else:
        logs = scores[:, None]
    weights = _weights(scores, logs)
    curves = tuple(
        Curve(spans, pulls, seen, warmth, column, place) for place, column in enumerate(logs.T)
    )
    level = float((scores - logs @ weights).mean())
    return Response(layout, knobs, choices, curves, weights, level)


def _pull(knob: Knob) -> float:
    return _TIMING_PULL if knob.is_timing else 1.0


def _choices(definition: Definition) -> tuple[tuple[str, Value], ...]:
    return tuple(
        (knob.name, value)
        for knob in definition.knobs.values()
        if knob.harder is Harder.CHOICE
        for value in knob.choices
        if value != knob.stock
    )


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


def log_span(knob: Knob) -> float:
    """Log ratio of the hardest value against stock; a support's whole range."""
    grid = knob.grid
    assert grid is not None, knob.name
    if isinstance(knob.stock, str) or min(grid.low, knob.stock) <= 0:
        return 0.2
    hardest = grid.low if knob.harder is Harder.DOWN else grid.high
    if knob.supports:
        return float(min(np.log(grid.high / grid.low), _LONGEST))
    return float(np.clip(abs(np.log(hardest / knob.stock)), 0.01, _LONGEST))
