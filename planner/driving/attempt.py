"""One run: the values are set, the workload is run and watched, its end becomes an outcome."""

import time
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from pathlib import Path

from planner.domain.definition import Definition
from planner.domain.drive import WENT_DOWN, Command, Drive
from planner.domain.knob import Setting
from planner.domain.outcome import Outcome
from planner.driving.handing_over import WORKLOAD, filled, handed_over
from planner.driving.left_over import TOKEN
from planner.driving.process import Ended, Process
from planner.driving.pulse import Pulse
from planner.driving.result import Result, void
from planner.driving.scoring import Stamp, score_facts, stamp
from planner.driving.watching import Watch
from planner.driving.wish import Wish

_NEARLY = 0.95
"""From this share of the nominal minutes on, a run that ends by itself is a nominal one."""
_RESETS = 2
"""So often the power is switched before the machine is given up."""


@dataclass(slots=True)
class Bench:
    """A machine whose knobs the person's commands turn."""

    definition: Definition
    drive: Drive
    folder: Path
    """The study's: the commands start in it."""
    scratch: Path
    token: str = ""
    """Names this drive in the environment of all that it starts."""
    wish: Wish = field(default_factory=Wish)
    tell: Callable[[float, dict[str, float]], None] = lambda left, readings: None
    """Shown while the workload runs: seconds left of its nominal run, and the readings."""
    say: Callable[[str], None] = lambda text: None
    """Told what a person should know at once."""
    alive: Callable[[float], None] = lambda seconds: None
    """Called as the workload starts, and about once a second while it runs."""
    _pulse: Pulse | None = field(default=None, init=False)

    def __post_init__(self) -> None:
        """The heartbeat, if there is one."""
        self.take(self.definition, self.drive)

    def take(self, definition: Definition, drive: Drive) -> None:
        """Go on by an edited definition."""
        self.definition, self.drive = definition, drive
        if drive.heartbeat:
            self._pulse = Pulse(
                drive, lambda: self._start("heartbeat", drive.heartbeat), self._given_up
            )

    def reach(self) -> str:
        """See that the machine answers, and switch its power if not; what is wrong, or empty.

        Raises:
            InputError: a command cannot be started at all.
        """
        if self._pulse is None or self.wish.at_once or self._pulse.answers_within(0):
            return ""
        wait_s = self.drive.boot_minutes * 60
        self.say("The machine does not answer" + (": reset." if self.drive.reset else "."))
        for _ in range(_RESETS if self.drive.reset else 1):
            if self.drive.reset and (problem := self._reset()):
                return problem
            if self._pulse.answers_within(wait_s) or self.wish.at_once:
                return ""
        after = f", after {_RESETS} resets" if self.drive.reset else "; there is no reset command"
        return f"the machine did not answer within {self.drive.boot_minutes:g} min{after}"

    def run(self, setting: Setting, run_minutes: float, workload: str = "") -> Result:
        """Set the values and run the workload once; `workload`: its name, empty for the study's.

        Raises:
            InputError: a command cannot be started at all.
        """
        started = time.monotonic()
        named = self.definition.workloads.get(workload, self.definition.workload)
        told = handed_over(setting, self.scratch) | {WORKLOAD: named.name}
        scores = named is self.definition.workload or named.scored
        result = self._apply(told) or self._workload(told, run_minutes, scores)
        minutes = round((time.monotonic() - started) / 60, 4)
        return replace(result, facts={"minutes": minutes} | result.facts)

    def restore(self, stock: Setting) -> str:
        """Put the machine back; what went wrong, or empty. A wish does not cut it short.

        Raises:
            InputError: the command cannot be started.
        """
        told = handed_over(stock, self.scratch)
        return self._done("restore", self._start("restore", self.drive.restore, told))

    def _reset(self) -> str:
        return self._done("reset", self._start("reset", self.drive.reset))

    def _done(self, what: str, process: Process) -> str:
        limit_s = self.drive.apply_minutes * 60
        in_time = process.ends_within(limit_s)
        ended = process.end()
        if not in_time:
            return f"{what} gave no answer within {limit_s:g} s"
        return f"{what} failed: {ended.with_last_words}" if ended.code else ""

    def _given_up(self) -> bool:
        return self.wish.at_once

    def _start(self, what: str, command: Command, told: dict[str, str] | None = None) -> Process:
        told = told or {}
        return Process(what, filled(command, told), self.folder, {TOKEN: self.token, **told})

    def _apply(self, told: dict[str, str]) -> Result | None:
        """None where the values are set."""
        limit_s = self.drive.apply_minutes * 60
        process = self._start("apply", self.drive.apply, told)
        in_time = process.ends_within(limit_s, self._given_up)
        ended = process.end()
        if not in_time and self.wish.at_once:
            return void("ended by hand while the values were set")
        if not in_time:
            symptom = f"apply gave no answer within {limit_s:g} s"
            return Result(Outcome.NO_START, {"symptom": symptom[:80]}, not_set=True)
        if ended.code < 0:
            return Result(Outcome.NO_START, {"symptom": f"apply {ended.symptom}"}, not_set=True)
        if ended.code and self._pulse is not None and self._pulse.settle(0.0) is not None:
            symptom = f"{WENT_DOWN} while its values were set"
            return Result(Outcome.NO_START, {"symptom": symptom}, not_set=True, down=True)
        if ended.code:
            return replace(void(f"apply failed: {ended.with_last_words}"), not_set=True)
        return None

    def _workload(self, told: dict[str, str], run_minutes: float, scores: bool) -> Result:
        before = stamp(self.drive, self.folder)
        if self._pulse is not None:
            self._pulse.begin()
        watch = Watch(
            self.definition,
            self.drive,
            self.wish,
            lambda: self._start("probe", self.drive.probe, told),
            self._pulse,
            self.tell,
            self.alive,
        )
        self.alive(0.0)
        process = self._start("workload", self.drive.workload, told)
        try:
            cut = watch.until_end(process, run_minutes * 60)
        finally:
            ended = process.end()
        result = cut or watch.after_failure(ended) or self._judged(ended, before, scores)
        if ended.stuck:
            result = replace(result, blind="the workload could not be ended")
        _add_times(result, ended, run_minutes)
        if watch.readings:
            result.facts["readings"] = watch.readings
        return result

    def _judged(self, ended: Ended, before: Stamp, scores: bool) -> Result:
        if ended.code:
            return Result(Outcome.CRASH, {"symptom": ended.symptom})
        told = score_facts(self.drive, self.folder, before, ended.output) if scores else {}
        return Result(Outcome.PASS, told)


def _add_times(result: Result, ended: Ended, nominal: float) -> None:
    facts = result.facts
    if result.outcome.failed:
        after_s = facts.get("failed_after_s", ended.seconds)
        facts["failed_after_s"] = round(min(after_s, nominal * 60), 3)
        facts["run_minutes"] = nominal
    elif "run_minutes" not in facts:
        facts["run_minutes"] = _counted_minutes(ended.seconds, nominal)
        if result.outcome is Outcome.PASS and ended.seconds < _NEARLY * nominal * 60:
            facts.setdefault("note", "the workload ended before its nominal minutes")


def _counted_minutes(seconds: float, nominal: float) -> float:
    """What it ran, in minutes; a hair short of nominal is nominal, as only whole runs confirm."""
    minutes = max(round(seconds / 60, 4), 1e-4)
    return max(minutes, nominal) if seconds >= _NEARLY * nominal * 60 else minutes
