"""A workload while it runs: its end, the readings, the heartbeat, and what they come to."""

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field, replace

from planner.domain.definition import Definition
from planner.domain.drive import WENT_DOWN, Drive
from planner.domain.outcome import Outcome
from planner.driving.probing import ProbeLost, gathered, is_over, past_stop, taken
from planner.driving.process import Ended, Process
from planner.driving.pulse import Down, Pulse
from planner.driving.result import Result, void
from planner.driving.wish import Wish

_LOOK_S = 0.1
"""How often a wish is looked at."""
_TICK_S = 1.0
"""How often a sign of life is given."""


@dataclass(slots=True)
class Watch:
    """What is looked at while a workload runs."""

    definition: Definition
    drive: Drive
    wish: Wish
    start_probe: Callable[[], Process]
    pulse: Pulse | None
    tell: Callable[[float, dict[str, float]], None]
    """Shown: seconds left of its nominal run, and the readings."""
    alive: Callable[[float], None]
    """Given about once a second: how long it has run, in s."""
    readings: dict[str, float] = field(default_factory=dict)
    """Of the run so far."""
    _due: dict[str, float] = field(default_factory=dict)
    _probe: Process | None = None
    """The one under way: the run does not wait for it."""

    def until_end(self, process: Process, nominal_s: float) -> Result | None:
        """What ended the run; None where the workload itself did."""
        try:
            return self._until_end(process, nominal_s)
        finally:
            self._end_probe()

    def _until_end(self, process: Process, nominal_s: float) -> Result | None:
        limit_s = nominal_s + self.drive.grace_minutes * 60
        while not process.ends_within(min(_LOOK_S, limit_s - process.seconds)):
            if self.wish.at_once:
                return void("ended by hand")
            if process.seconds >= limit_s:
                return Result(Outcome.CRASH, {"symptom": f"no end within {limit_s / 60:.4g} min"})
            if cut := self._looked(process):
                return cut
            if self._is_due("tick", process, _TICK_S):
                self.alive(process.seconds)
            self.tell(max(nominal_s - process.seconds, 0.0), self.readings)
        return None

    def after_failure(self, ended: Ended) -> Result | None:
        """A workload may have failed because the machine under test is gone."""
        if self.pulse is None or not ended.code:
            return None
        down = self.pulse.settle(ended.seconds)
        return None if down is None else _crashed(down)

    def _is_due(self, what: str, process: Process, every_s: float) -> bool:
        due = process.seconds >= self._due.get(what, 0.0)
        if due:
            self._due[what] = process.seconds + every_s
        return due

    def _looked(self, process: Process) -> Result | None:
        """What heartbeat and probe come to; None where the run may go on, or is over anyway."""
        drive = self.drive
        if self.pulse and self._is_due("heartbeat", process, drive.heartbeat_seconds):
            down = self.pulse.look(process.seconds, lambda: process.ends_within(0))
            if down is not None:
                return _crashed(down)
        probe, limit_s = self._probe, drive.probe_seconds
        if probe is not None and is_over(probe, limit_s):
            self._probe = None
            return self._probed(process, probe)
        if drive.probe and probe is None and self._is_due("probe", process, limit_s):
            self._probe = self.start_probe()
        return None

    def _probed(self, process: Process, probe: Process) -> Result | None:
        known = self.definition.readings
        first = not self.readings
        try:
            now = taken(probe, self.drive.probe_seconds, known)
        except ProbeLost as lost:
            return None if process.ends_within(0) else self._blind(process, str(lost), first)
        self.readings |= gathered(self.readings, now, known)
        passed = past_stop(self.definition, now, now)
        if passed and not process.ends_within(0):
            return Result(Outcome.STOPPED, {"note": passed})
        return None

    def _end_probe(self) -> None:
        """The run is over: what the probe under way has told counts, and no more is waited for."""
        if self._probe is None:
            return
        known = self.definition.readings
        with suppress(ProbeLost):
            now = taken(self._probe, self.drive.probe_seconds, known)
            self.readings |= gathered(self.readings, now, known)

    def _blind(self, process: Process, why: str, first: bool) -> Result:
        """The probe is lost: perhaps because the machine is down, or the person ends the run."""
        if self.pulse and (down := self.pulse.settle(process.seconds)) is not None:
            return _crashed(down)
        if self.wish.at_once:
            return void("ended by hand")
        return replace(Result(Outcome.VOID if first else Outcome.STOPPED, {"note": why}), blind=why)


def _crashed(down: Down) -> Result:
    facts = {"symptom": f"{WENT_DOWN}: {down.why}", "failed_after_s": down.after_s}
    return Result(Outcome.CRASH, facts, down=True)
