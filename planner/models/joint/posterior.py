"""What the runs tell of all knobs at once: chances of settings, edges."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from planner.domain.knob import Value
from planner.history import History
from planner.models.hazard import Array
from planner.models.joint.evidence import ROOM, Evidence, evidence_of
from planner.models.joint.layout import Layout, layout_of
from planner.models.joint.columns import columns_of
from planner.models.joint.likelihood import (
    STRAY,
    STRAY_START,
    asked_of,
    edge_at,
    log_start,
    shares,
)
from planner.models.joint.particles import Particles, sample
from planner.models.joint.prior import RATIO, WIDTH, priors_of
from planner.models.joint.survival import log_survival, spread_class


@dataclass(frozen=True)
class JointPosterior:
    """Particles, and what they say."""

    layout: Layout
    evidence: Evidence
    particles: Particles
    room: float
    """Temperature of the room for which chances are stated, in °C."""

    @property
    def warmth(self) -> float:
        """The room above its reference, in 10 K."""
        return (self.room - ROOM) / 10

    def log_chances(
        self, at: Array, helps: Array, only: slice = slice(None)
    ) -> tuple[Array, Array]:
        """Log of the chance to start and of that to start and hold a nominal run.

        `at` (m, k), `helps` (m, s) -> two of shape (n particles, m).
        """
        starts = np.full((len(self.particles.typical[only]), len(at)), STRAY_START)
        holds = starts + STRAY
        for place in range(len(self.layout.risks)):
            started, held = self._risk(place, at, helps, only)
            starts += started
            holds += started + held
        return starts, holds

    def log_risks(self, at: Array, helps: Array) -> Array:
        """Log of the expected chance to start and hold against each risk alone, shape (k, m)."""
        found = []
        for place in range(len(self.layout.risks)):
            started, held = self._risk(place, at, helps, slice(None))
            found.append(np.log(np.maximum(np.exp(started + held).mean(axis=0), 1e-300)))
        return np.array(found)

    def spread_to_value(self, place: int, at: Array, beside: Mapping[str, Value]) -> Array:
        """Draws of one risk's coordinate as values of its knob, the others as in `beside`."""
        risk = self.layout.risks[place]
        grid = risk.knob.grid
        assert grid is not None
        ends = [
            self.layout.coordinates([{**beside, risk.knob.name: v}])[0, place]
            for v in (grid.low, grid.high)
        ]
        share = (at - ends[0]) / (ends[1] - ends[0])
        return np.asarray(grid.low + share * (grid.high - grid.low))

    def causes(self, run: int) -> Array:
        """Each particle's shares of the causes of one failed run, the stray one last, (n, k + 1).

        `run`: its place in the evidence. The person's suspicion is counted.
        """
        columns = columns_of(self.evidence.only(np.array([run])))
        every = [
            asked_of(prior, k, columns).terms(rows)
            for k, (prior, rows) in enumerate(
                zip(self.particles.priors, self.particles.rows, strict=True)
            )
        ]
        share = shares(every, columns, np.array([0]))[:, 0, :] * self.evidence.suspected[run]
        return np.asarray(share / np.maximum(share.sum(axis=1, keepdims=True), 1e-300))

    def _risk(self, place: int, at: Array, helps: Array, only: slice) -> tuple[Array, Array]:
        """One risk's logs; candidates that agree in what it feels are worked out once."""
        prior, theta = self.particles.priors[place], self.particles.rows[place][only]
        felt = np.column_stack([at[:, place], helps[:, list(prior.risk.supports)]])
        unique, back = np.unique(felt, axis=0, return_inverse=True)
        full = np.zeros((len(unique), helps.shape[1]))
        full[:, list(prior.risk.supports)] = unique[:, 1:]
        warmth = np.full(len(unique), self.warmth)
        beyond = unique[:, 0] - edge_at(prior, theta, full, warmth)
        width = np.exp(theta[:, WIDTH])[:, None]
        held = log_survival(beyond / width, spread_class(theta[:, RATIO])[:, None])
        started = log_start(prior, theta, beyond)
        back = back.reshape(-1)
        return started[:, back], held[:, back]

    def chances(self, settings: Sequence[Mapping[str, Value]]) -> Array:
        """Each particle's chance that a nominal run holds, shape (n, m)."""
        at, helps = self.layout.coordinates(settings), self.layout.helps(settings)
        return np.asarray(np.exp(self.log_chances(at, helps)[1]))


def joint_posterior(history: History) -> JointPosterior:
    """The posterior after `history`."""
    layout = layout_of(history.definition)
    evidence = evidence_of(history, layout)
    particles = sample(priors_of(layout), evidence, history.definition.goal.seed)
    rooms = [run.readings["room"] for run in evidence.runs if "room" in run.readings]
    return JointPosterior(layout, evidence, particles, rooms[-1] if rooms else ROOM)
