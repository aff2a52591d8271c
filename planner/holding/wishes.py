"""What makes a setting that keeps holding a good one.

For every day it is its score, or its pace where nothing scores. To trim is to lower the voltages
that hold given clocks, by the power that they take: it goes with the square of a voltage, so what
is raised is minus twice the sum of their logs.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from planner.domain.definition import Definition
from planner.domain.knob import Harder, Knob, Value
from planner.history import History
from planner.models.hazard import Array
from planner.models.joint.curve import ANSWERS, SLAB
from planner.models.joint.evidence import ROOM
from planner.models.joint.layout import Layout, layout_of
from planner.models.joint.response import answering, coordinates_of, log_span, response_of
from planner.peak.wish import Answering, Wish, lifts_others

_LITTLE = 0.002
"""What is not worth telling apart where nothing scores, on a log scale."""


@dataclass(frozen=True)
class Pace:
    """What scores usually gain from knobs that are taken further, before anything scored."""

    layout: Layout
    knobs: tuple[Knob, ...]
    noise: float = _LITTLE

    def predict(self, at: Array, room: float = ROOM) -> tuple[Array, Array]:
        """Mean and standard deviation of the log pace at coordinates (m, q), two of (m,)."""
        risks = set(self.layout.names)
        pulls = [ANSWERS * SLAB * log_span(k) * (k.name in risks) for k in self.knobs]
        return at @ np.array(pulls), np.full(len(at), 1e-6)

    def coordinates(self, settings: Sequence[Mapping[str, Value]]) -> Array:
        """Of every knob, in spans from stock towards harder, shape (m, q)."""
        return coordinates_of(self.layout, self.knobs, (), settings)


@dataclass(frozen=True)
class Thrift:
    """What lower voltages save, against stock."""

    knobs: tuple[Knob, ...]
    noise: float = _LITTLE

    def predict(self, at: Array, room: float = ROOM) -> tuple[Array, Array]:
        """Mean and standard deviation of minus the log of power, two of shape (m,)."""
        return -2 * at.sum(axis=1), np.full(len(at), 1e-6)

    def coordinates(self, settings: Sequence[Mapping[str, Value]]) -> Array:
        """Logs of the voltages against stock, shape (m, q)."""
        rows = [[_log_ratio(s[k.name], k.stock) for k in self.knobs] for s in settings]
        return np.array(rows, float).reshape(len(settings), len(self.knobs))


def _log_ratio(value: Value, stock: Value) -> float:
    if isinstance(value, str) or isinstance(stock, str) or min(value, stock) <= 0:
        return 0.0
    return float(np.log(value / stock))


def _pace(history: History) -> Answering:
    return response_of(history) or pace_of(history.definition)


def pace_of(definition: Definition) -> Pace:
    """Of the study's knobs."""
    return Pace(layout_of(definition), answering(definition))


def thrift_of(definition: Definition) -> Thrift:
    """Of the study's voltages."""
    return Thrift(tuple(k for k in answering(definition) if k.lifts_voltage))


def _turned_to_trim(definition: Definition, knob: Knob) -> bool:
    return knob.lifts_voltage and knob.harder is Harder.DOWN


EVERYDAY = Wish(_pace, lambda definition, knob: True, False, lifts_others)
"""The fastest setting that keeps holding."""
TRIM = Wish(
    lambda history: thrift_of(history.definition), _turned_to_trim, False, lambda knob: False
)
"""The least voltage that holds given clocks."""
