"""What a search for a setting that must keep holding makes of its runs."""

from dataclasses import dataclass, replace
from functools import cached_property
from math import log

import numpy as np
from numpy.typing import NDArray

from planner.domain.knob import Setting
from planner.domain.terms import Terms
from planner.gate import Gate, gate_of
from planner.history import History, taken_over
from planner.holding.keeping import backed_off, kept
from planner.holding.look_ahead import Look, best_look
from planner.models.claim import Claim, claim_for
from planner.models.joint.likelihood import STRAY, STRAY_START
from planner.models.joint.posterior import JointPosterior
from planner.peak.candidates import candidates
from planner.peak.choosing import Pick, pick
from planner.peak.keeping import Kept
from planner.peak.search import PeakSearch
from planner.peak.space import Rows
from planner.peak.wish import Wish

_MILDER = 4
"""Milder settings are looked for beside so many that passed."""


@dataclass(frozen=True)
class HoldPlan:
    """Each worked out once, whoever asks."""

    search: PeakSearch

    @property
    def history(self) -> History:
        """All that it is determined by."""
        return self.search.history

    @property
    def gate(self) -> Gate:
        """What may be proposed."""
        return self.search.gate

    @cached_property
    def kept(self) -> Kept:
        """The setting to keep."""
        return kept(self.search, self.sound, self.offered)

    @cached_property
    def claim(self) -> Claim:
        """What the runs at the setting to keep have shown, and what they still owe."""
        return claim_for(self.search, self.kept.setting)

    @cached_property
    def further(self) -> Pick | None:
        """The run that may better what has passed; None where nothing is left to gain."""
        return pick(self.search, self.offered)

    @cached_property
    def look(self) -> Look | None:
        """The run that would better the setting to keep most; None where none would."""
        return best_look(self.search, self.sound, self.offered)

    @cached_property
    def surest(self) -> Setting:
        """Of the settings worth a look that may be run, the one likeliest to meet what is asked."""
        space = self.search.space
        rows = self.offered[np.argsort(-self.sound(self.offered).mean(axis=0), kind="stable")]
        permitted = (s for s in map(space.setting, rows) if self.gate.permits(s))
        return next(permitted, self.search.base)

    @cached_property
    def offered(self) -> Rows:
        """Settings worth a look, milder ones than those that passed among them."""
        search = self.search
        passed = search.space.rows([run.ran for run in search.scored[:_MILDER]] or [search.base])
        return np.unique(np.concatenate([candidates(search), backed_off(search, passed)]), axis=0)

    @cached_property
    def warmest(self) -> JointPosterior:
        """What the runs tell of the warmest room: the one stated, else the warmest read."""
        posterior = self.search.posterior
        stated = self.history.definition.goal.warmest_room
        rooms = [r.readings["room"] for r in posterior.evidence.runs if "room" in r.readings]
        return replace(posterior, room=max([posterior.room, *rooms]) if stated is None else stated)

    def sound(self, rows: Rows) -> NDArray[np.bool_]:
        """Whether each particle has a row meet what is asked of it, shape (n, m).

        Hours between failures are asked of the setting itself, stray crashes left out.
        """
        settings = self.search.space.settings(rows)
        _, holds = self.warmest.log_chances(self.warmest.felt(settings))
        definition = self.history.definition
        hours = definition.goal.hours_between_failures
        if hours is None:
            return np.asarray(holds >= log(definition.goal.target))
        return np.asarray(holds - STRAY - STRAY_START >= -definition.workload.minutes / 60 / hours)

    def carried_to(self, history: History) -> "HoldPlan":
        """The plan under a later history that tells no more runs; the machine may have changed."""
        later = HoldPlan(self.search.carried_to(history))
        return taken_over(self, later, ("offered", "surest", "kept", "warmest", "claim"))


def hold_plan(wish: Wish, history: History, terms: Terms) -> HoldPlan:
    """The plan after `history`; what is kept every day lies at or under everyday ceilings."""
    return HoldPlan(PeakSearch(history, gate_of(history, everyday_only=True), terms, wish))
