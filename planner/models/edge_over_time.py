"""What was known of an edge as the runs came in: its interval after one run after another."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from planner.domain.knob import Knob, Value
from planner.history import History
from planner.models.edge import EdgePosterior, likelihood
from planner.models.edge_prior import edge_prior, grid_for
from planner.models.evidence import Observation, observations
from planner.models.hazard import Array


@dataclass(frozen=True, slots=True)
class KnownThen:
    """The edge as it was known once so many runs had been made."""

    runs: int
    """How many runs that count had been made."""
    median: float
    """In steps from the easiest value, as the interval."""
    interval: tuple[float, float]


def edge_over_time(
    history: History, knob: Knob, others: Mapping[str, Value], most: int
) -> tuple[KnownThen, ...]:
    """The edge at about `most` points between the first run and now, told by today's definition.

    At each point it is what `edge_posterior` would have said then: only the changes told by then
    had made older evidence fade. Between two points only what the runs there add is worked out.
    """
    goal = history.definition.goal
    own = goal.tolerance if knob is history.definition.searched else None
    grid = grid_for(knob, goal.target, own)
    prior = np.log(np.maximum(edge_prior(grid, knob), 1e-300))
    chances: dict[Observation, Array] = {}
    known, total, before, epoch = [], prior, 0, 0
    for runs, now in _points(history, most):
        if now != epoch:
            total, before, epoch = prior, 0, now  # what came before the change counts for less
        part = replace(history, runs=history.evidence[before:runs], changes=history.changes[:epoch])
        seen = observations(part, knob, others)
        for observation in sorted(seen, key=repr):
            alike = replace(observation, weight=1.0)
            if alike not in chances:
                chances[alike] = np.log(likelihood(grid, alike))
            total = total + seen[observation] * observation.weight * chances[alike]
        before = runs
        weights = np.exp(total - total.max())
        posterior = EdgePosterior(grid, weights / weights.sum())
        known.append(KnownThen(runs, posterior.quantile(0.5), posterior.interval()))
    return tuple(known)


def _points(history: History, most: int) -> Iterator[tuple[int, int]]:
    """After how many runs the edge is told, evenly spread, and how many changes were told then.

    Before the first run, after the last before each change, and now are among them.
    """
    runs, changes = history.evidence, len(history.changes)
    every = max(1, -(-len(runs) // most))
    for count in range(len(runs)):
        told = runs[count - 1].epoch if count else 0
        last_before_change = count and runs[count].epoch != told
        if (len(runs) - count) % every == 0 or count == 0 or last_before_change:
            yield count, told
    yield len(runs), changes
