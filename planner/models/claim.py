"""What confirming runs have shown of one setting, and what they still owe."""

from dataclasses import dataclass
from typing import Protocol

from planner.domain.knob import Setting
from planner.domain.outcome import Outcome
from planner.domain.run import Run
from planner.history import History
from planner.models.edge import LEVEL
from planner.models.edge_search import EdgeSearch
from planner.trade.reliability import lower_bound, success_run


@dataclass(frozen=True, slots=True)
class Claim:
    """Evidence that a setting passes at least with the target probability."""

    passes: int
    runs: int
    cold_boots: int
    """Cold boots among the passing runs."""
    lower_bound: float
    """The pass probability that the runs alone bound from below (Clopper-Pearson)."""
    passes_owed: int
    """Passes in a row still needed for the study's confidence."""
    cold_boots_owed: int
    spoilt: bool
    """Whether it failed there once, so that the claim asked for can't be made of this setting."""
    hours: float = 0.0
    """Hours that the workload held there, in runs of any length, failed ones included."""
    failures: int = 0
    """Failures in them."""
    boots: int = 0
    """Boots, cold or warm, that they are spread over."""

    @property
    def met(self) -> bool:
        """Whether nothing is owed."""
        return not (self.passes_owed or self.cold_boots_owed or self.spoilt)


class Searched(Protocol):
    """A search whose nominal runs bear out a claim."""

    @property
    def history(self) -> History:
        """All that is known."""
        ...

    @property
    def nominal_runs(self) -> tuple[Run, ...]:
        """Runs of the whole length of the study's workload."""
        ...


def claim_for(search: Searched, setting: Setting) -> Claim:
    """What the nominal runs at exactly `setting` have shown since the last told change.

    The plan is fixed beforehand: so many passes and no failure. Allowing for failures as they
    come would make false claims likelier than stated.
    """
    goal = search.history.definition.goal
    epoch = len(search.history.changes)
    here = [r for r in search.nominal_runs if r.ran == setting and r.epoch == epoch]
    passes = [r for r in here if r.outcome.held]
    cold = {r.boot for r in passes if r.cold}
    needed = success_run(goal.target, goal.confidence) if goal.confidence is not None else 0
    failed = len(here) - len(passes)
    ran = [r for r in _of_workload(search, setting) if r.epoch == epoch]
    return Claim(
        passes=len(passes),
        runs=len(here),
        cold_boots=len(cold),
        lower_bound=lower_bound(len(passes), len(here), goal.confidence or LEVEL),
        passes_owed=max(0, needed - len(passes)),
        cold_boots_owed=max(0, goal.cold_boots - len(cold)),
        spoilt=goal.confidence is not None and failed > 0,
        hours=sum(map(_minutes_held, ran)) / 60,
        failures=sum(r.outcome.failed for r in ran),
        boots=len({r.boot for r in ran}),
    )


def _of_workload(search: Searched, setting: Setting) -> list[Run]:
    """Runs of the study's workload at exactly `setting` that started, whatever their length."""
    history = search.history
    return [
        run
        for run in history.evidence
        if run.workload == history.definition.workload.name
        and run.ran == setting
        and run.outcome is not Outcome.NO_START
    ]


def _minutes_held(run: Run) -> float:
    """A failure whose time is not told may have come at once."""
    return (run.failed_after_s or 0.0) / 60 if run.outcome.failed else run.run_minutes


def claimable(search: EdgeSearch, value: float | None) -> float | None:
    """The value to keep where `value` is the one recommended, or None.

    That one; where a claim is asked for, the hardest one up to it that has not failed
    since the last told change.
    """
    if value is None or search.history.definition.goal.confidence is None:
        return value
    kept = search.values[: search.values.index(value) + 1]
    return next(
        (v for v in reversed(kept) if not claim_for(search, search.setting(v)).spoilt), None
    )
