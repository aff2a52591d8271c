"""What the runs tell of all knobs at once: chances of settings, edges."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from planner.domain.knob import Setting, Value
from planner.history import History, once
from planner.models.hazard import Array
from planner.models.joint.evidence import ROOM, Evidence, evidence_of, merged, speaking
from planner.models.joint.layout import Layout, layout_of
from planner.models.joint.likelihood import STRAY, STRAY_START, edge_at, log_start, shares
from planner.models.joint.particles import sample
from planner.models.joint.prior import GROWTH, RATIO, WARMTH, WIDTH, priors_of
from planner.models.joint.remembered import Particles
from planner.models.joint.shifting import groups_of
from planner.models.joint.shifts import shared_of
from planner.models.joint.state import state_of, told_of
from planner.models.joint.survival import crossing, log_survival, spread_class

_ALL = slice(None)


@dataclass(frozen=True)
class Felt:
    """Settings as the risks feel them."""

    at: Array
    """Coordinate of each risk, shape (m, k)."""
    helps: Array
    """Coordinate of each support, shape (m, s)."""
    shifted: tuple[Array, ...]
    """For each group with shifts, 1 where it would stand shifted, shape (m, c)."""


@dataclass(frozen=True)
class JointPosterior:
    """Particles, and what they say of a nominal run of the study's workload on a fresh boot."""

    layout: Layout
    evidence: Evidence
    particles: Particles
    room: float
    """Temperature of the room for which chances are stated, in °C."""

    @property
    def warmth(self) -> float:
        """The room above its reference, in 10 K."""
        return (self.room - ROOM) / 10

    def felt(self, settings: Sequence[Mapping[str, Value]]) -> Felt:
        """Settings as the risks feel them."""
        shifted = tuple(g.shared.of_settings(settings) for g in self.particles.groups)
        return Felt(self.layout.coordinates(settings), self.layout.helps(settings), shifted)

    def log_chances(self, felt: Felt, only: slice = _ALL) -> tuple[Array, Array]:
        """Log of the chance to start and of that to start and hold, two of (n particles, m)."""
        starts = np.full((len(self.particles.draws.typical[only]), len(felt.at)), STRAY_START)
        holds = starts + STRAY
        for place in range(len(self.layout.risks)):
            started, held = self._risk(place, felt, only)
            starts += started
            holds += started + held
        return starts, holds

    def log_risks(self, felt: Felt) -> Array:
        """Log of the expected chance to start and hold against each risk alone, shape (k, m)."""
        found = []
        for place in range(len(self.layout.risks)):
            started, held = self._risk(place, felt, _ALL)
            found.append(np.log(np.maximum(np.exp(started + held).mean(axis=0), 1e-300)))
        return np.array(found)

    def chances(self, settings: Sequence[Mapping[str, Value]]) -> Array:
        """Each particle's chance that a nominal run holds, shape (n, m)."""
        return np.asarray(np.exp(self.log_chances(self.felt(settings))[1]))

    def log_lasts(self, setting: Setting, share: float, further: Mapping[int, Array]) -> Array:
        """Log of the chance that a shorter run, once started, holds, shape (n,).

        `share`: of a nominal run. `further`: by the place of a risk, how far its edge lies beyond
        that of the study's workload, in shares of its way, shape (n,).
        """
        felt = self.felt([setting])
        total = np.full(len(self.particles.draws.typical), STRAY * share)
        for place, prior in enumerate(self.particles.priors):
            theta = self.particles.rows[place]
            edge = self._edge(place, felt) + further[place] * prior.risk.way
            y = (felt.at[0, place] - edge) * np.exp(-theta[:, WIDTH])
            y += theta[:, GROWTH] * np.log(share)
            total += log_survival(y, spread_class(self._log_ratio(place, _ALL)))
        return total

    def edge_values(self, place: int, beside: Setting, log_chance: float) -> Array:
        """Draws of where one risk alone still leaves a chance, in its knob's unit, shape (n,).

        The supports, and what turns clocks into time, stand as in `beside`.
        """
        prior, rows = self.particles.priors[place], self.particles.rows[place]
        edge = self._edge(place, self.felt([beside]))
        at = edge + np.exp(rows[:, WIDTH]) * crossing(self._log_ratio(place, _ALL), log_chance)
        grid = prior.risk.knob.grid
        assert grid is not None
        ends = [{**beside, prior.risk.knob.name: end} for end in (grid.low, grid.high)]
        low, high = self.layout.coordinates(ends)[:, place]
        return np.asarray(grid.low + (at - low) / (high - low) * (grid.high - grid.low))

    def causes(self, run: int) -> Array:
        """Each particle's shares of the causes of one failed run, the stray one last, (n, k + 1).

        `run`: its place in the evidence. The person's suspicion is counted.
        """
        rows, none = np.array([run]), np.array([], np.intp)
        particles = self.particles
        told = told_of(particles.priors, particles.groups, self.evidence, none, rows)
        terms = state_of(told, particles.draws).terms
        share = shares(terms, told.columns, np.array([0]))[:, 0, :]
        share = share * self.evidence.suspected[run]
        return np.asarray(share / np.maximum(share.sum(axis=1, keepdims=True), 1e-300))

    def _edge(self, place: int, felt: Felt) -> Array:
        """Where one risk's edge stands beside one setting, in spans, shape (n,)."""
        prior, rows = self.particles.priors[place], self.particles.rows[place]
        edge = edge_at(prior, rows, felt.helps, np.array([self.warmth]))
        return np.asarray((edge + self._shift(place, felt, _ALL))[:, 0])

    @cached_property
    def _group_of(self) -> dict[int, int]:
        return groups_of(self.particles.groups)

    def _shift(self, place: int, felt: Felt, only: slice) -> Array:
        """By how much one risk's edge would stand shifted, in spans, shape (n, m) or (1, 1)."""
        group = self._group_of.get(place)
        if group is None:
            return np.zeros((1, 1))
        rows = self.particles.draws.groups[group][only]
        shift = self.particles.groups[group].shift(rows, felt.shifted[group])
        return shift * self.particles.priors[place].risk.way

    def _log_ratio(self, place: int, only: slice) -> Array:
        """Log of one risk's spread from run to run and boot to boot, in widths, shape (n,)."""
        theta = self.particles.rows[place][only]
        group = self._group_of.get(place)
        if group is None:
            return theta[:, RATIO]
        rows = self.particles.draws.groups[group][only]
        boots = self.particles.groups[group].boot_spread(rows)
        boots = boots * self.particles.priors[place].risk.way * np.exp(-theta[:, WIDTH])
        return np.asarray(0.5 * np.log(np.exp(2 * theta[:, RATIO]) + boots**2))

    def _risk(self, place: int, felt: Felt, only: slice) -> tuple[Array, Array]:
        """One risk's logs; settings that agree in what it feels are worked out once."""
        prior, theta = self.particles.priors[place], self.particles.rows[place][only]
        group = self._group_of.get(place)
        columns = [felt.at[:, [place]], felt.helps[:, list(prior.risk.supports)]]
        columns += [] if group is None else [felt.shifted[group]]
        _, first, back = np.unique(
            np.concatenate(columns, axis=1), axis=0, return_index=True, return_inverse=True
        )
        some = Felt(felt.at[first], felt.helps[first], tuple(s[first] for s in felt.shifted))
        edge = edge_at(prior, theta, some.helps, np.full(len(first), self.warmth))
        beyond = some.at[:, place] - edge - self._shift(place, some, only)
        width = np.exp(theta[:, WIDTH])[:, None]
        held = log_survival(beyond / width, spread_class(self._log_ratio(place, only))[:, None])
        # What starts does not start better in a cool room.
        started = log_start(prior, theta, beyond - np.exp(theta[:, [WARMTH]]) * self.warmth)
        back = back.reshape(-1)
        return started[:, back], np.asarray(held[:, back], float)


@once
def joint_posterior(history: History) -> JointPosterior:
    """The posterior after `history`."""
    layout = layout_of(history.definition)
    shared = shared_of(history, layout, speaking(history))
    evidence = evidence_of(history, layout, shared)
    seed = history.definition.goal.seed
    particles = sample(priors_of(layout), merged(evidence), seed, shared=shared)
    rooms = [run.readings["room"] for run in evidence.runs if "room" in run.readings]
    return JointPosterior(layout, evidence, particles, rooms[-1] if rooms else ROOM)
