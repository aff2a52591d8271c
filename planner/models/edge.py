"""The edge of one knob: a grid posterior over where it lies and how it is shaped.

The edge is the value at which a nominal run passes with the target probability. The grid
holds the edge itself (so that its prior is stated where people can judge it) against every
shape of `hazard`; runs multiply it by their likelihood. Never the lowest crash: that is biased.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from planner.domain.knob import Knob, Value
from planner.history import History
from planner.models.edge_grid import EdgeGrid
from planner.models.edge_prior import edge_prior, grid_for
from planner.models.evidence import Observation, observations
from planner.models.hazard import Array

SLIP = 1e-6
"""Chance that a run is on record with the wrong outcome; bounds what one entry can do."""
MUTE = 0.4
"""Share of failures whose time says nothing: workloads have hard and easy stretches of their own,
and people note times roughly."""
LEVEL = 0.9
"""Credibility of every interval that is shown."""


@dataclass(frozen=True)
class EdgePosterior:
    """What is known of an edge: weights over shapes and edges that sum to 1."""

    grid: EdgeGrid
    weights: Array
    """# (m shapes, n edges)"""

    @cached_property
    def mass(self) -> Array:
        """Probability of each cell of the grid of edges, shape (n,)."""
        return np.asarray(self.weights.sum(axis=0))

    def chance(self, hardness: float, share: float = 1.0) -> float:
        """Probability that `share` of a nominal run holds at a hardness."""
        return float(np.sum(self.weights * self.grid.survival(hardness, share)))

    def chance_interval(self, hardness: float, level: float = LEVEL) -> tuple[float, float]:
        """Credible interval of the chance that a nominal run holds at a hardness."""
        chances = self.grid.survival(hardness, 1.0).ravel()
        order = np.argsort(chances)
        below = np.cumsum(self.weights.ravel()[order])
        ends = np.searchsorted(below, [(1 - level) / 2, (1 + level) / 2])
        low, high = chances[order][np.minimum(ends, len(order) - 1)]
        return float(low), float(high)

    def quantile(self, share: float) -> float:
        """The edge, in steps, under which `share` of the probability lies."""
        below = np.concatenate(([0.0], np.cumsum(self.mass)))
        borders = np.append(self.grid.edges - self.grid.cell / 2, self.grid.edges[-1])
        borders[-1] += self.grid.cell / 2
        return float(np.interp(share, below, borders))

    def beyond(self, hardness: float) -> float:
        """Probability that the edge lies harder than a hardness."""
        return float(self.mass[self.grid.edges > hardness].sum())

    def interval(self, level: float = LEVEL) -> tuple[float, float]:
        """Credible interval of the edge, in steps."""
        return self.quantile((1 - level) / 2), self.quantile((1 + level) / 2)

    def updated(self, observation: Observation, times: float = 1.0) -> "EdgePosterior":
        """The posterior after one more observation, made `times` times."""
        power = times * observation.weight
        weights = self.weights * likelihood(self.grid, observation) ** power
        return EdgePosterior(self.grid, weights / weights.sum())


def likelihood(grid: EdgeGrid, seen: Observation) -> Array:
    """Probability of an observation under every shape and edge, shape (m, n)."""
    if seen.errors:
        chance = grid.counted(seen.hardness, seen.held, seen.errors)
    elif seen.failed_by is None:
        chance = grid.survival(seen.hardness, seen.held)
    else:
        told = grid.survival(seen.hardness, seen.held) - grid.survival(
            seen.hardness, seen.failed_by
        )
        untold = 1 - grid.survival(seen.hardness, seen.length)
        share = (seen.failed_by - seen.held) / seen.length
        chance = (1 - MUTE) * told + MUTE * share * untold
    return SLIP + (1 - SLIP) * np.maximum(chance, 0.0)


def posterior(grid: EdgeGrid, prior: Array, seen: Mapping[Observation, int]) -> EdgePosterior:
    """Prior times the likelihood of everything seen, summed in logs; `prior` has shape (m, n)."""
    total = np.log(np.maximum(prior, 1e-300))
    # Sorted, so that the order of recording cannot move the last bit of a sum.
    for observation in sorted(seen, key=repr):
        power = seen[observation] * observation.weight
        total = total + power * np.log(likelihood(grid, observation))
    weights = np.exp(total - total.max())
    return EdgePosterior(grid, weights / weights.sum())


def edge_posterior(history: History, knob: Knob, others: Mapping[str, Value]) -> EdgePosterior:
    """What the history says of the knob's edge, the other knobs at the values given."""
    goal = history.definition.goal
    grid = grid_for(
        knob, goal.target, goal.tolerance if knob is history.definition.searched else None
    )
    return posterior(grid, edge_prior(grid, knob), observations(history, knob, others))
