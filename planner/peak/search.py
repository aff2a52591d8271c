"""The search as it stands: posterior, response, space, and the worth of any settings."""

from dataclasses import dataclass, replace
from functools import cached_property
from math import inf

import numpy as np

from planner.domain.knob import Setting
from planner.domain.run import Run
from planner.domain.terms import USUAL, Terms
from planner.gate import Gate, gate_of
from planner.history import History, taken_over
from planner.models.edge_search import base_of
from planner.models.hazard import Array
from planner.models.joint.posterior import Felt, JointPosterior, joint_posterior
from planner.models.joint.response import Response
from planner.peak.attempts import Attempts, anew, attempts_at
from planner.peak.ending import left_by_end
from planner.peak.rise import expected_rise
from planner.peak.space import Rows, Space, space_of
from planner.peak.wish import SCORE, Answering, Wish

_EVERY = 2
"""Settings are weighed by every second particle."""


@dataclass(frozen=True)
class Worth:
    """What candidate rows promise, each of shape (m,)."""

    chances: Array
    """That a nominal run starts and holds."""
    gains: Array
    """Expected rise of the best log score, given that it holds."""
    minutes: Array
    """Expected for the whole attempt."""
    left: Array
    """Share of the gain that the evening's end leaves; 0 where the run does not fit in it."""


@dataclass(frozen=True)
class PeakSearch:
    """Everything that choosing the next run of a peak attempt needs."""

    history: History
    gate: Gate
    terms: Terms = USUAL
    wish: Wish = SCORE

    @cached_property
    def posterior(self) -> JointPosterior:
        """What the runs tell of what holds."""
        return joint_posterior(self.history)

    @cached_property
    def response(self) -> Answering | None:
        """How what is wished for answers; None where nothing scored yet."""
        return self.wish.answer(self.history)

    @cached_property
    def scored(self) -> tuple[Run, ...]:
        """Runs that may be claimed, the best first."""
        workload = self.history.definition.workload.name
        runs = [
            r
            for r in self.history.evidence
            if r.workload == workload and self._counts(r) and self.gate.permits(r.ran)
        ]
        if self.wish.scores:
            return tuple(sorted(runs, key=lambda r: -(r.best_score or -inf)))
        worth, _ = self.expected([r.ran for r in runs])
        return tuple(runs[i] for i in np.argsort(-worth, kind="stable"))

    def _counts(self, run: Run) -> bool:
        return (run.best_score or 0) > 0 if self.wish.scores else run.outcome.held

    @cached_property
    def nominal_runs(self) -> tuple[Run, ...]:
        """Runs of the study's workload: failed, or held to the end."""
        workload = self.history.definition.workload
        return tuple(
            r
            for r in self.history.evidence
            if r.workload == workload.name
            and (r.outcome.failed or r.run_minutes >= workload.minutes)
        )

    @cached_property
    def base(self) -> Setting:
        """The run to start from, else stock, or what the ceilings permit under it.

        Where only some knobs may be turned, the others stand as in the best run.
        """
        stock = base_of(self.gate, self.history.definition.stock)
        if self.terms.start is not None:
            return {**stock, **self.history.by_number[self.terms.start].ran}
        if self.terms.only and self.scored:
            return {**stock, **self.scored[0].ran}
        return stock

    @property
    def max_changes(self) -> int | None:
        """How many values may be dialled in at once."""
        return self.terms.max_changes or self.history.definition.goal.max_changes

    @cached_property
    def space(self) -> Space:
        """What may be turned."""
        definition = self.history.definition
        names = [
            name
            for name in self.terms.turned(definition)
            if self.wish.turns(definition, definition.knobs[name])
        ]
        return space_of(self.gate, self.posterior.layout, self.base, names)

    def carried_to(self, history: History) -> "PeakSearch":
        """The search under a later history that tells no more runs, changes or risks."""
        kept = ("posterior", "response", "scored", "nominal_runs", "base", "space", "to_beat")
        return taken_over(self, replace(self, history=history), kept)

    @cached_property
    def to_beat(self) -> float:
        """The log score of the best claimable setting, freed of its luck; of the run to start from.

        Who starts from another run than the best wants to get on from there.
        """
        response = self.response
        if response is None or not self.scored:
            return -inf
        started = self.terms.start is not None
        ran = [self.base] if started else [run.ran for run in self.scored]
        means, _ = response.predict(response.coordinates(ran), self.posterior.room)
        return float(means.max())

    def worth(self, rows: Rows) -> Worth:
        """What rows promise."""
        settings = self.space.settings(rows)
        only = slice(None, None, _EVERY)
        felt = self.posterior.felt(settings)
        starts, holds = (np.exp(x) for x in self.posterior.log_chances(felt, only))
        gains = self._gains(settings)
        chances = holds.mean(axis=0)
        begins, attempts = starts.mean(axis=0), attempts_at(self.history, self.space, rows)
        minutes = attempts.expected(begins, chances)
        minutes = minutes + (1 - chances) * self.crash_price(felt)
        return Worth(chances, gains, minutes, self._left_by_end(attempts, begins, chances))

    def _left_by_end(self, attempts: Attempts, starts: Array, holds: Array) -> Array:
        """Shares of the gains that the evening's end leaves: it has one where scores count."""
        left = self.history.minutes_left
        if left is None or not self.wish.scores or not self.scored:
            return np.ones(len(holds))
        again = anew(self.history, self.scored[0].ran)
        return left_by_end(attempts, left, again, starts, holds)

    def _gains(self, settings: list[Setting]) -> Array:
        """Expected rise over the best; by the draws alone where less than the best is expected.

        There one normal with the draws' mean and spread, or what a draw itself leaves open, would
        promise gains from taking a knob the easy way, however few of the draws have the score rise
        by that: an evening tried slow settings, because they were sure to hold.
        """
        over = np.asarray(self.to_beat)
        means, sds = self.expected(settings)
        gains = expected_rise(means, sds, over)
        less = np.flatnonzero(means < over)
        if isinstance(self.response, Response) and less.size:
            at = self.response.coordinates([settings[i] for i in less])
            drawn = self.response.believed(at, self.posterior.room)
            each = np.maximum(drawn - over, 0.0).mean(axis=1)
            gains[less] = np.minimum(gains[less], each)
        return gains

    def expected(self, settings: list[Setting]) -> tuple[Array, Array]:
        """Mean and standard deviation of what is wished for, as a log."""
        response = self.response
        if response is None:
            return np.zeros(len(settings)), np.full(len(settings), 1e-6)
        return response.predict(response.coordinates(settings), self.posterior.room)

    def crash_price(self, felt: Felt) -> Array:
        """What a crash costs beyond its minutes: each group's price by its share of the risk."""
        definition, posterior = self.history.definition, self.posterior
        groups = [risk.knob.group for risk in posterior.layout.risks]
        prices = np.array(
            [definition.groups[g].crash_price if g in definition.groups else 0.0 for g in groups]
        )
        if not prices.any():
            return np.zeros(len(felt.at))
        risks = -posterior.log_risks(felt)
        return np.asarray(prices @ risks / np.maximum(risks.sum(axis=0), 1e-12))


def peak_search(history: History, terms: Terms = USUAL) -> PeakSearch:
    """The search after `history`."""
    return PeakSearch(history, gate_of(history, terms.everyday_only), terms)
