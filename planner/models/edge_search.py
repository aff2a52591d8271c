"""The search of one knob's edge as it stands: posterior, permitted levels, costs, decision."""

from dataclasses import dataclass
from functools import cached_property
from math import inf

import numpy as np

from planner.domain.knob import Knob, Setting
from planner.domain.run import Run
from planner.gate import Gate, gate_of
from planner.history import History, taken_over
from planner.models.costs import Costs, costs_of
from planner.models.decision import NONE, Decision, decide, loss_table
from planner.models.edge import EdgePosterior, edge_posterior
from planner.models.hazard import Array
from planner.models.look_ahead import Worth, weigh

CANDIDATES = 60
"""At most so many values are weighed against each other."""


@dataclass(frozen=True)
class EdgeSearch:
    """Everything that choosing the next run of one knob needs; determined by the history."""

    history: History
    gate: Gate
    knob: Knob
    base: Setting
    """A complete setting; the knobs that are not searched stand as in it."""

    @cached_property
    def values(self) -> tuple[float, ...]:
        """The knob's values that may be proposed, easiest first."""
        permitted = self.gate.permitted_values(self.knob, self.base)
        return tuple(v for v in permitted if not isinstance(v, str))

    @cached_property
    def levels(self) -> Array:
        """Hardness of `values`, in steps, shape (r,)."""
        return np.array([self.knob.hardness(v) for v in self.values])

    @cached_property
    def posterior(self) -> EdgePosterior:
        """What the runs say of the edge."""
        return edge_posterior(self.history, self.knob, self.base)

    @cached_property
    def losses(self) -> Array:
        """Loss of each level, and of none, for each edge, shape (r + 1, n)."""
        return loss_table(self.posterior.grid, self.levels)

    @cached_property
    def decision(self) -> Decision:
        """The recommendation as things stand."""
        return decide(self.losses, self.posterior.mass)

    @cached_property
    def costs(self) -> Costs:
        """What runs cost."""
        return costs_of(self.history, self.knob.group)

    @cached_property
    def worth(self) -> Worth:
        """What runs are worth at each value near where the edge may lie."""
        values = self._candidates()
        nominal = self.history.definition.workload.minutes
        return weigh(
            self.posterior,
            self.losses,
            self.decision.loss,
            values,
            [self.knob.hardness(v) for v in values],
            [self.costs.streak(self.setting(v), nominal) for v in values],
        )

    def _candidates(self) -> tuple[float, ...]:
        """Permitted values around where the edge may lie, thinned evenly."""
        low, high = self.posterior.interval(0.998)
        below = low - 2 * self.posterior.grid.tolerance
        levels = zip(self.values, self.levels, strict=True)
        near = [v for v, level in levels if below <= level <= high + 1] or [
            self.values[-1 if low > self.levels[-1] else 0]
        ]
        return tuple(near[:: -(-len(near) // CANDIDATES)])

    @property
    def recommended(self) -> float | None:
        """The value to recommend; None where none is likely to hold."""
        return None if self.decision.index == NONE else self.values[self.decision.index]

    @property
    def borne_out(self) -> float | None:
        """The value to keep if the evening ended now; None where none is likely to hold.

        The one of least expected loss among those at or above which something has passed; stock
        while nothing has, if it is more likely to hold than not.
        """
        if self.decision.index == NONE:
            return None
        passed = sum(self.passed_at_or_above(v) for v in self.values)
        if passed:
            expected = (self.losses[:passed] * self.posterior.mass).sum(axis=1)
            return self.values[int(np.argmin(np.round(expected, 12)))]
        stock = self.base[self.knob.name]
        likely = stock in self.values and self.chance(float(stock)) > 0.5
        return float(stock) if likely else None

    def loss_of(self, value: float | None) -> float:
        """Expected loss of recommending `value`, or none."""
        index = NONE if value is None else self.values.index(value)
        return float(np.sum(self.losses[index] * self.posterior.mass))

    def carried_to(self, history: History) -> "EdgeSearch":
        """The search under a later history that tells no more runs, changes or risks.

        What was worked out from those is kept; minutes depend on the machine and are not.
        """
        later = EdgeSearch(history, self.gate, self.knob, self.base)
        kept = (
            "values",
            "levels",
            "posterior",
            "losses",
            "decision",
            "nominal_runs",
            "hardest_pass",
        )
        return taken_over(self, later, kept)

    def beside(self, base: Setting, posterior: EdgePosterior, hardest_pass: float) -> "EdgeSearch":
        """The same search with the other knobs as in `base`.

        What is known of the edge there, and the hardest pass that counts for it, come from a model
        that looks farther than the runs at `base`.
        """
        other = EdgeSearch(self.history, self.gate, self.knob, base)
        known = {"costs": self.costs, "posterior": posterior, "hardest_pass": hardest_pass}
        other.__dict__.update(known)
        return other

    def setting(self, value: float) -> Setting:
        """The complete setting with the searched knob at `value`."""
        return {**self.base, self.knob.name: value}

    def chance(self, value: float, share: float = 1.0) -> float:
        """Probability that a run of `share` of the nominal length holds at `value`."""
        return self.posterior.chance(self.knob.hardness(value), share)

    def minutes(self, value: float) -> float:
        """Expected minutes of a nominal run at `value`, all in."""
        nominal = self.history.definition.workload.minutes
        return self.costs.expected(self.setting(value), self.chance(value), nominal)

    @cached_property
    def nominal_runs(self) -> tuple[Run, ...]:
        """Runs of the study's workload at the other knobs' values: failed, or held to the end."""
        workload, searched = self.history.definition.workload, self.knob.name
        beside = [name for name in self.base if name != searched]
        there = [self.base[name] for name in beside]
        return tuple(
            run
            for run in self.history.evidence
            if [run.ran[name] for name in beside] == there
            and run.workload == workload.name
            and (run.outcome.failed or run.run_minutes >= workload.minutes)
            and not isinstance(run.ran[searched], str)
        )

    @cached_property
    def hardest_pass(self) -> float:
        """Hardness of the hardest value at which a nominal run has held; minus infinity if none."""
        held = (run.ran[self.knob.name] for run in self.nominal_runs if run.outcome.held)
        return max((self.knob.hardness(float(value)) for value in held), default=-inf)

    def passed_at_or_above(self, value: float) -> bool:
        """Whether a nominal run has held at `value` or harder."""
        return self.knob.hardness(value) - 1e-9 <= self.hardest_pass


def edge_search(history: History, everyday_only: bool = False) -> EdgeSearch | None:
    """The search of the study's knob; None where no knob has a range."""
    knob = history.definition.searched
    if knob is None:
        return None
    gate = gate_of(history, everyday_only)
    return EdgeSearch(history, gate, knob, base_of(gate, history.definition.stock))


def base_of(gate: Gate, stock: Setting) -> Setting:
    """Stock, or the nearest value under it that the ceilings permit."""
    base = dict(stock)
    for name, top in gate.ceilings.items():
        knob = gate.definition.knobs.get(name)
        if knob is None or knob.grid is None:
            continue
        value = base[name]
        if not isinstance(value, str) and value > top:
            base[name] = max((v for v in knob.grid.values() if v <= top), default=value)
    return base
