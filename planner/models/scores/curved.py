"""How a score answers to each knob where all knobs were moved at once: by the joint response.

One knob is turned at a time from the setting asked about, value by value, so that a score which
bends down is seen to.
"""

from dataclasses import dataclass
from functools import cached_property
from math import inf
from typing import NamedTuple

import numpy as np

from planner.domain.knob import Knob, Setting
from planner.models.hazard import Array
from planner.models.joint.response import Response
from planner.models.scores.answering import Level, Slope
from planner.models.scores.response import TAIL, straight_steps


class _Turned(NamedTuple):
    """The log score over that at the setting, as one knob is turned; three of shape (m,)."""

    steps: Array
    """Towards harder, ascending."""
    means: Array
    errors: Array


@dataclass(frozen=True)
class Curved:
    """The score near one setting, by the response of all knobs together."""

    response: Response
    setting: Setting

    @cached_property
    def slopes(self) -> tuple[Slope, ...]:
        """Of every knob that a scored run turned away from another."""
        found = []
        seen = self.response.curves[0].seen.T  # the choices made follow the knobs
        for knob, column in zip(self.response.knobs, seen, strict=False):
            if np.ptp(column) > 0:
                mean, error = self._rise(knob, np.array([1.0]))
                found.append(Slope(knob.name, float(mean[0]), float(error[0])))
        return tuple(found)

    def score(self) -> float:
        """At the setting itself, freed of its runs' luck."""
        mean, _ = self.response.predict(self.response.coordinates([self.setting]))
        return float(np.exp(mean[0]))

    def steps_to(self, slope: Slope, ratio: float) -> tuple[float, tuple[float, float]]:
        """Steps that multiply the score by `ratio`; past the range along a straight line.

        Without end where that line would reach it inside the range: there the score bends down.
        """
        wanted, turned = np.log(ratio), self._turned(slope.knob)
        side = 1 if slope.per_step > 0 else -1
        likely, soonest, latest = (
            _first(turned.steps, turned.means + z * turned.errors, float(wanted), side)
            for z in (0.0, TAIL, -TAIL)
        )
        if likely is None:
            straight = straight_steps(slope, ratio)
            inside = turned.steps[0] <= straight[0] <= turned.steps[-1]
            return (side * inf, (-inf, inf)) if inside else straight
        ends = (
            soonest if soonest is not None else likely,
            side * inf if latest is None else latest,
        )
        return likely, (min(ends), max(ends))

    def after(self, knob: str, steps: float) -> Level:
        """That many steps of a knob harder."""
        mean, error = self._rise(self._knob(knob), np.array([steps]))
        level = np.log(self.score()) + float(mean[0])
        return Level(float(level), float(error[0]), self.response.noise, inf)

    def _knob(self, name: str) -> Knob:
        return next(knob for knob in self.response.knobs if knob.name == name)

    def _turned(self, name: str) -> _Turned:
        knob = self._knob(name)
        start = knob.hardness(float(self.setting[name]))
        steps = np.array([i - start for i in range(len(knob.values))])
        return _Turned(steps, *self._rise(knob, steps))

    def _rise(self, knob: Knob, steps: Array) -> tuple[Array, Array]:
        start = knob.hardness(float(self.setting[knob.name]))
        places = [{**self.setting, knob.name: knob.at_hardness(start + s)} for s in steps.tolist()]
        at, here = (self.response.coordinates(rows) for rows in (places, [self.setting]))
        return self.response.rise(at, here)


def _first(steps: Array, rises: Array, wanted: float, side: int) -> float | None:
    """How far to one side a curve first comes up to what is wanted, between steps in a line."""
    aside = steps * side > 0
    order = np.argsort(np.abs(steps[aside]))
    at = np.concatenate(([0.0], steps[aside][order]))
    height = np.concatenate(([0.0], rises[aside][order]))
    reached = np.flatnonzero(height >= wanted)
    if not len(reached) or reached[0] == 0:
        return None
    i = int(reached[0])
    share = (wanted - height[i - 1]) / (height[i] - height[i - 1])
    return float(at[i - 1] + share * (at[i] - at[i - 1]))
