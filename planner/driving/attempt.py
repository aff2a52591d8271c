"""One run: the values are set, the workload is run and watched, its end becomes an outcome."""

import time
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from planner.domain.definition import Definition
from planner.domain.drive import Command, Drive
from planner.domain.knob import Setting
from planner.domain.outcome import Outcome
from planner.driving.handing_over import handed_over
from planner.driving.probing import ProbeLost, gathered, past_stop, taken
from planner.driving.process import Ended, Process
from planner.driving.scoring import score_facts, stamp
from planner.driving.wish import Wish

_LOOK_S = 0.1
"""How often a wish is looked at."""

_NEARLY = 0.95
"""From this share of the nominal minutes on, a run that ends by itself is a nominal one."""

Tell = Callable[[float, dict[str, float]], None]
"""Shown while the workload runs: seconds left of its nominal run, and the readings."""


@dataclass(frozen=True, slots=True)
class Result:
    """What a run came to, as `Study.record` takes it."""

    outcome: Outcome
    facts: dict[str, Any]
    not_set: bool = False
    """Whether the values could not be set, so that the workload did not run."""
    blind: str = ""
    """Why nothing more may be run unattended; empty: it may."""


@dataclass(slots=True)
class Bench:
    """A machine whose knobs the person's commands turn."""

    definition: Definition
    drive: Drive
    folder: Path
    """The study's: the commands start in it."""
    scratch: Path
    wish: Wish = field(default_factory=Wish)
    tell: Tell = lambda left, readings: None

    def run(self, setting: Setting, run_minutes: float) -> Result:
        """Set the values and run the workload once.

        Raises:
            InputError: a command cannot be started at all.
        """
        started = time.monotonic()
        told = handed_over(setting, self.scratch)
        result = self._apply(told) or self._workload(told, run_minutes * 60)
        minutes = round((time.monotonic() - started) / 60, 4)
        return Result(
            result.outcome, {"minutes": minutes} | result.facts, result.not_set, result.blind
        )

    def restore(self, stock: Setting) -> str:
        """Put the machine back; what went wrong, or empty. A wish does not cut it short.

        Raises:
            InputError: the command cannot be started.
        """
        limit_s = self.drive.apply_minutes * 60
        process = self._start("restore", self.drive.restore, handed_over(stock, self.scratch))
        in_time = process.ends_within(limit_s)
        ended = process.end()
        if not in_time:
            return f"restore gave no answer within {limit_s:g} s"
        return f"restore failed: {ended.symptom}" if ended.code else ""

    def _start(self, what: str, command: Command, told: dict[str, str]) -> Process:
        return Process(what, command, self.folder, told)

    def _apply(self, told: dict[str, str]) -> Result | None:
        """None where the values are set."""
        limit_s = self.drive.apply_minutes * 60
        process = self._start("apply", self.drive.apply, told)
        while not process.ends_within(min(_LOOK_S, limit_s - process.seconds)):
            if self.wish.at_once:
                process.end()
                return _void("ended by hand while the values were set")
            if process.seconds >= limit_s:
                process.end()
                symptom = f"apply gave no answer within {limit_s:g} s"
                return Result(Outcome.NO_START, {"symptom": symptom[:80]}, not_set=True)
        ended = process.end()
        if ended.code < 0:
            return Result(Outcome.NO_START, {"symptom": f"apply {ended.symptom}"}, not_set=True)
        if ended.code:
            return Result(Outcome.VOID, {"note": f"apply failed: {ended.symptom}"}, not_set=True)
        return None

    def _workload(self, told: dict[str, str], nominal_s: float) -> Result:
        before = stamp(self.drive, self.folder)
        limit_s = nominal_s + self.drive.grace_minutes * 60
        process = self._start("workload", self.drive.workload, told)
        readings: dict[str, float] = {}
        try:
            cut = self._watch(process, nominal_s, limit_s, told, readings)
        finally:
            ended = process.end()
        result = cut or self._judged(ended, before)
        if ended.stuck:
            result = replace(result, blind="the workload could not be ended")
        if result.outcome.failed:
            failed_after = round(min(ended.seconds, nominal_s), 3)
            result.facts["failed_after_s"] = failed_after
            result.facts["run_minutes"] = nominal_s / 60
        elif "run_minutes" not in result.facts:
            result.facts["run_minutes"] = _counted_minutes(ended.seconds, nominal_s)
            if result.outcome is Outcome.PASS and ended.seconds < _NEARLY * nominal_s:
                result.facts.setdefault("note", "the workload ended before its nominal minutes")
        if readings:
            result.facts["readings"] = readings
        return result

    def _watch(
        self,
        process: Process,
        nominal_s: float,
        limit_s: float,
        told: dict[str, str],
        readings: dict[str, float],
    ) -> Result | None:
        """Watch the workload; None where it ended by itself. Fills `readings`."""
        probe_at = 0.0 if self.drive.probe else limit_s
        while not process.ends_within(min(_LOOK_S, limit_s - process.seconds)):
            if self.wish.at_once:
                return _void("ended by hand")
            if process.seconds >= limit_s:
                symptom = f"no end within {limit_s / 60:.4g} min"
                return Result(Outcome.CRASH, {"symptom": symptom})
            if process.seconds >= probe_at:
                probe_at = process.seconds + self.drive.probe_seconds
                if cut := self._probed(process, told, readings):
                    return cut
            self.tell(max(nominal_s - process.seconds, 0.0), readings)
        return None

    def _probed(
        self, process: Process, told: dict[str, str], readings: dict[str, float]
    ) -> Result | None:
        """One probe; None where the run may go on, or is over anyway."""
        known = self.definition.readings
        first = not readings
        try:
            probe = self._start("probe", self.drive.probe, told)
            now = taken(probe, self.drive.probe_seconds, known)
        except ProbeLost as lost:
            if process.ends_within(0):
                return None
            held = Outcome.VOID if first else Outcome.STOPPED
            return Result(held, {"note": str(lost)}, blind=str(lost))
        readings |= gathered(readings, now, known)
        passed = past_stop(self.definition, now, now)
        if passed and not process.ends_within(0):
            return Result(Outcome.STOPPED, {"note": passed})
        return None

    def _judged(self, ended: Ended, before: Any) -> Result:
        if ended.code:
            return Result(Outcome.CRASH, {"symptom": ended.symptom})
        told = score_facts(self.drive, self.folder, before, ended.output)
        return Result(Outcome.PASS, told)


def _counted_minutes(seconds: float, nominal_s: float) -> float:
    """What it ran, in minutes; a hair short of nominal is nominal, as only whole runs confirm."""
    if _NEARLY * nominal_s <= seconds < nominal_s:
        return nominal_s / 60
    return max(round(seconds / 60, 4), 1e-4)


def _void(note: str) -> Result:
    return Result(Outcome.VOID, {"note": note})
