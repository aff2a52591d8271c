"""What a run is expected to cost in bench minutes: by the definition, corrected by experience."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from planner.domain.definition import Definition
from planner.domain.dialling import dial_minutes, recovery_minutes
from planner.domain.knob import Value
from planner.domain.outcome import Outcome
from planner.history import History
from planner.models.look_ahead import Minutes

_OWN_WEIGHT = 1.0
"""How many runs the definition's figures count for against recorded minutes."""
USUAL_FAILURE = 0.35
"""Share of a run that has passed when it fails, on average (common practice, no source)."""

_LEAST = 0.05
"""No attempt takes fewer minutes."""


@dataclass(frozen=True)
class Costs:
    """Minutes of a run before it is made."""

    definition: Definition
    machine: Mapping[str, Value]
    """What the machine holds now."""
    restarting: bool
    """Whether it is starting anew after the last run, so that dialling in costs no restart."""
    change_extra: float
    """Minutes that held runs at a new setting took beyond the definition's figures."""
    repeat_extra: float
    """The same for held runs at the setting of the run before."""
    fail_extra: float
    """What failed runs took beyond both."""
    crash_price: float
    """What a crash costs the person beyond its minutes, in minutes."""

    def branches(self, setting: Mapping[str, Value], run_minutes: float) -> tuple[float, float]:
        """Minutes of the whole attempt if the run holds, and if it fails."""
        dial = dial_minutes(self.definition, self.machine, setting, self.restarting)
        dial += self.repeat_extra if setting == self.machine else self.change_extra
        recovery = recovery_minutes(self.definition, Outcome.CRASH) + self.fail_extra
        failed = dial + USUAL_FAILURE * run_minutes + recovery
        return max(dial + run_minutes, _LEAST), max(failed, _LEAST)

    def expected(self, setting: Mapping[str, Value], chance: float, run_minutes: float) -> float:
        """Minutes of the whole attempt: dialling in, run, and recovery if it fails."""
        held, failed = self.branches(setting, run_minutes)
        return chance * held + (1 - chance) * failed

    def streak(self, setting: Mapping[str, Value], run_minutes: float) -> Minutes:
        """Minutes of the same run again and again, the person's price of a crash included."""
        held, failed = self.branches(setting, run_minutes)
        again_held, again_failed = replace(self, machine=setting, restarting=False).branches(
            setting, run_minutes
        )
        price = self.crash_price
        return Minutes(held, failed + price, again_held, again_failed + price)


def costs_of(history: History, group: str) -> Costs:
    """Costs as the runs so far have shown them; `group` names whose crash is priced."""
    held = [run for run in history.evidence if run.outcome.held]
    change_extra = _shrunk(r.minutes - r.usual_minutes for r in held if r.dialled)
    repeat_extra = _shrunk(r.minutes - r.usual_minutes for r in held if not r.dialled)
    fail_extra = _shrunk(
        r.minutes - r.usual_minutes - (change_extra if r.dialled else repeat_extra)
        for r in history.evidence
        if r.outcome.failed
    )
    priced = history.definition.groups.get(group)
    return Costs(
        definition=history.definition,
        machine=history.machine,
        restarting=history.restarting,
        change_extra=change_extra,
        repeat_extra=repeat_extra,
        fail_extra=fail_extra,
        crash_price=priced.crash_price if priced else 0.0,
    )


def _shrunk(differences: Iterable[float]) -> float:
    known = list(differences)
    return sum(known) / (len(known) + _OWN_WEIGHT)
