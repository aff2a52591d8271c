"""What a simulated evening's runs score: sub-scores that follow the knobs, and their composite.

A sub-score is a product of powers of the knobs (its elasticities), a timing counting by the time
it stands for. Graphics memory replays transfers that arrive with errors, and so loses score long
before it crashes (common practice, no source). The composite is a weighted harmonic mean.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import exp, log1p

from planner.domain.knob import Value


@dataclass(frozen=True, slots=True)
class Replay:
    """The loss of a clock whose transfers are replayed."""

    knob: str
    starts: float
    """The clock at which it sets in."""
    natural: float
    """A natural step of that clock."""
    loss: float
    """Share of the sub-scores' pull lost for each natural step beyond."""

    def kept(self, value: float) -> float:
        """The factor by which the clock counts."""
        return exp(-self.loss * log1p(exp((value - self.starts) / self.natural)))


@dataclass(frozen=True)
class Scoring:
    """Sub-scores and composite of a setting."""

    bases: Mapping[str, float]
    """Each sub-score at stock."""
    elasticities: Mapping[str, Mapping[str, float]]
    """For each sub-score, the power of each knob; negative: the shorter the better."""
    weights: Mapping[str, float]
    stock: Mapping[str, Value]
    replay: Replay
    rate: str
    """The data rate that timings are counted by."""
    timings: tuple[str, ...]
    warmth: float
    """Share lost for each kelvin of room."""

    def subscores(self, setting: Mapping[str, Value], room: float) -> dict[str, float]:
        """Without run-to-run noise."""
        found = {}
        for name, base in self.bases.items():
            value = base * (1 - self.warmth * (room - 22.0))
            for knob, power in self.elasticities[name].items():
                value *= (self._pull(knob, setting) / self._pull(knob, self.stock)) ** power
            found[name] = value
        return found

    def composite(self, subscores: Mapping[str, float]) -> float:
        """The weighted harmonic mean."""
        total = sum(self.weights.values())
        return total / sum(w / subscores[name] for name, w in self.weights.items())

    def score(self, setting: Mapping[str, Value], room: float = 22.0) -> float:
        """The composite without run-to-run noise."""
        return self.composite(self.subscores(setting, room))

    def _pull(self, knob: str, setting: Mapping[str, Value]) -> float:
        value = float(setting[knob])
        if knob in self.timings:
            return value / float(setting[self.rate])
        return value * self.replay.kept(value) if knob == self.replay.knob else value
