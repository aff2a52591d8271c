"""The search of one knob's edge along a second: a search at each station, with one posterior."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from math import inf

import numpy as np

from planner.domain.knob import Knob, Setting, Value
from planner.domain.run import Run
from planner.gate import Gate, gate_of
from planner.history import History, taken_over
from planner.models.edge import EdgePosterior, likelihood
from planner.models.edge_grid import EdgeGrid
from planner.models.edge_search import EdgeSearch, base_of
from planner.models.evidence import Observation, observations
from planner.models.frontier.chain import LEAST, Chain
from planner.models.frontier.prior import frontier_grid, priors
from planner.models.frontier.slopes import RISES
from planner.models.frontier.stations import Stations, stations_of
from planner.models.hazard import Array

_ALONE = 0.02
"""Share of stations at which nothing holds for a reason of its own, as heat, whatever the
neighbours say; the first cell of the grid, easier than everything in range, stands for it."""
_SURE_RISE = 0.9
"""A pass at a harder station speaks for this one if the edge rises in between so surely."""


@dataclass(frozen=True)
class FrontierSearch:
    """Everything that tracing a frontier needs; determined by the history."""

    history: History
    gate: Gate
    knob: Knob
    along: Knob
    base: Setting
    """A complete setting; the knobs other than the two stand as in it."""

    @cached_property
    def root(self) -> EdgeSearch:
        """The search of the knob with the second one as in `base`."""
        return EdgeSearch(self.history, self.gate, self.knob, self.base)

    @property
    def helps(self) -> bool:
        """Whether the second knob is there to help the first, as a voltage helps a clock."""
        return self.along.lifts_voltage or self.knob.name in self.along.supports

    @cached_property
    def stations(self) -> Stations:
        """The values of the second knob."""
        return stations_of(self.history, self.gate, self.along, self.base)

    @cached_property
    def searches(self) -> tuple[EdgeSearch, ...]:
        """The search of the edge at each station, in their order."""
        root = self.root
        values = self.stations.values
        own = [replace(root, history=h, base=b).hardest_pass for h, b in map(self._at, values)]
        found, reach = [], -inf
        for value, posterior, rise, passed in zip(
            values, self._posteriors(), self.rises, own, strict=True
        ):
            reach = max(passed, reach if rise >= _SURE_RISE else -inf)
            found.append(root.beside(self.beside(value), posterior, reach))
        return tuple(found)

    def _posteriors(self) -> Iterator[EdgePosterior]:
        for weights, seen in zip(self._weights, self.likelihoods, strict=True):
            alone = _ALONE * seen[:, :1] / _emission(seen)
            mass = weights.sum(axis=2)
            kept = mass * (1 - alone)
            kept[:, 0] += (mass * alone).sum(axis=1)
            yield EdgePosterior(self.grid, kept)

    @property
    def asked(self) -> tuple[EdgeSearch, ...]:
        """The searches at the stations where runs may be proposed."""
        pairs = zip(self.stations.values, self.searches, strict=True)
        return tuple(s for value, s in pairs if value in self.stations.asked and s.values)

    @cached_property
    def rises(self) -> tuple[float, ...]:
        """Probability that the edge does not fall on the way to each station; 1 for the first."""
        holds = (float(w[:, :, RISES >= -1e-9].sum()) for w in self._weights)
        return tuple(held if place else 1.0 for place, held in enumerate(holds))

    @cached_property
    def grid(self) -> EdgeGrid:
        """Where the edge may lie, at every station."""
        goal = self.history.definition.goal
        return frontier_grid(self.knob, goal.target, goal.tolerance)

    def carried_to(self, history: History) -> "FrontierSearch":
        """The search under a later history that tells no more runs, changes or risks."""
        later = FrontierSearch(history, self.gate, self.knob, self.along, self.base)
        return taken_over(self, later, ("stations", "runs", "likelihoods", "_weights", "rises"))

    def beside(self, value: float) -> Setting:
        """The setting whose second knob stands at a station's value."""
        return {**self.base, self.along.name: value}

    @cached_property
    def chain(self) -> Chain:
        """How the edges of neighbouring stations hang together."""
        first, _ = priors(self.grid, self.knob)
        spacings = max((len(self.stations.asked) or len(self.stations.values)) - 1, 1)
        return Chain(self.grid, first, self.stations.gaps, self.grid.steps / spacings)

    @cached_property
    def _weights(self) -> list[Array]:
        return self.chain.smoothed([_emission(seen) for seen in self.likelihoods])

    @cached_property
    def likelihoods(self) -> list[Array]:
        """Of the runs at each station, stock's prior included, shape (m, n) each."""
        known: dict[Observation, Array] = {}
        return [self._likelihood(value, known) for value in self.stations.values]

    @cached_property
    def runs(self) -> Mapping[Value, tuple[Run, ...]]:
        """The runs that count at each value of the second knob at which there are any."""
        found: dict[Value, list[Run]] = {}
        for run in self.history.evidence:
            found.setdefault(run.ran[self.along.name], []).append(run)
        return {value: tuple(runs) for value, runs in found.items()}

    def _at(self, value: float) -> tuple[History, Setting]:
        """The history of the runs at a station alone, and the setting there."""
        return replace(self.history, runs=self.runs.get(value, ())), self.beside(value)

    def _likelihood(self, value: float, known: dict[Observation, Array]) -> Array:
        """Of the runs at one station; `known`: logs by observation, added to."""
        here, base = self._at(value)
        total = np.zeros((len(self.chain.first), len(self.grid.edges)))
        seen = observations(here, self.knob, base)
        for observation in sorted(seen, key=repr):
            alike = replace(observation, weight=1.0)
            if alike not in known:
                known[alike] = np.log(likelihood(self.grid, alike))
            total += seen[observation] * observation.weight * known[alike]
        if value == self._nearest_to_stock:
            total += np.log(np.maximum(priors(self.grid, self.knob)[1], 1e-300))
        return np.asarray(np.maximum(np.exp(total - total.max()), LEAST))

    @cached_property
    def _nearest_to_stock(self) -> float | None:
        stock = self.along.stock
        if isinstance(stock, str):
            return None
        return min(self.stations.values, key=lambda v: (abs(v - stock), v), default=None)


def _emission(seen: Array) -> Array:
    """What the runs of a station say of the chain's edge there, shape (m, n)."""
    return (1 - _ALONE) * seen + _ALONE * seen[:, :1]


def frontier_search(history: History, everyday_only: bool = False) -> FrontierSearch | None:
    """The search of the study's knob along its second; None where one of them has no range."""
    definition = history.definition
    knob, along = definition.searched, definition.knobs.get(definition.goal.along)
    if knob is None or knob.grid is None or along is None or along.grid is None:
        return None
    gate = gate_of(history, everyday_only)
    return FrontierSearch(history, gate, knob, along, base_of(gate, definition.stock))
