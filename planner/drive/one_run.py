"""One workload from its start to what it came to, watched by probe and heartbeat."""

import time
from collections.abc import Callable
from dataclasses import dataclass, field

from planner.domain.launch import Launch
from planner.domain.outcome import Outcome
from planner.drive.companion import Companion
from planner.drive.halt import Halt
from planner.drive.judging import Ended, Verdict, judged
from planner.drive.machine import Machine
from planner.drive.order import Order
from planner.drive.process import Process
from planner.drive.room import Room
from planner.drive.sensors import NoReadings, highest, past_stop, readings_in

POLL_S = 0.01
TICK_S = 1.0
"""How often a sign of life is written down and the screen renewed."""


@dataclass
class Watched:
    """What was seen while it ran."""

    boot: str | None
    """What the heartbeat last printed."""
    readings: dict[str, float] = field(default_factory=dict)
    """Of each the highest."""


@dataclass(frozen=True, slots=True)
class Came:
    """What a run came to, and whether the machine is still there."""

    verdict: Verdict
    gone: bool = False
    """The machine does not answer, or was restarted."""
    interrupted: bool = False
    """The person ended it."""
    unsafe: bool = False
    """A reading passed its stop, or nobody knows: stock values at once."""


class OneRun:
    """Runs a workload once."""

    def __init__(
        self, machine: Machine, launch: Launch, order: Order, room: Room, halt: Halt
    ) -> None:
        """Nothing is started yet."""
        self._machine = machine
        self._launch = launch
        self._order = order
        self._room = room
        self._halt = halt
        self._seen = Watched(boot=machine.boot)

    def run(self, tick: Callable[[float, dict[str, float]], None]) -> Came:
        """Run it; `tick` is called now and then with the seconds so far and the readings.

        Raises:
            CommandFailed: it cannot be started.
        """
        judging = self._launch.judging
        result = self._room.inside(judging.result_file) if judging.result_file else None
        if result is not None:
            result.unlink(missing_ok=True)
        probe, heartbeat = self._machine.companions(self._order)
        process = self._machine.start(self._launch, self._order)
        try:
            came = self._watch(process, probe, heartbeat, tick)
        finally:
            for companion in (probe, heartbeat):
                if companion is not None:
                    companion.end()
            process.end(grace_s=2.0 if self._launch.until_stopped else 0.3)
            self._room.keep_output(self._order.run, process.output.text())
        if came is None:
            came = Came(judged(self._launch, self._ended(process), result))
        return self._with_readings(came)

    def _watch(
        self,
        process: Process,
        probe: Companion | None,
        heartbeat: Companion | None,
        tick: Callable[[float, dict[str, float]], None],
    ) -> Came | None:
        """Wait for an end; None where the workload itself says how it was."""
        due = 0.0
        while process.status() is None:
            seconds = process.seconds
            if self._halt.at_once:
                return Came(Verdict(Outcome.VOID, {}, "ended by hand"), interrupted=True)
            if heartbeat is not None and (gone := self._beat(heartbeat, process)):
                return gone
            if probe is not None and (bad := self._probed(probe, process, heartbeat)):
                return bad
            if process.overdue or (self._launch.until_stopped and seconds >= self._order.seconds):
                return None
            if seconds >= due:
                tick(seconds, self._seen.readings)
                due = seconds + TICK_S
            time.sleep(POLL_S)
        return self._after(process, heartbeat)

    def _ended(self, process: Process) -> Ended:
        ours = process.ended_by_us
        return Ended(
            None if ours else process.status(),
            process.seconds,
            process.output.found,
            overdue=ours and not self._launch.until_stopped,
        )

    def _beat(self, heartbeat: Companion, process: Process) -> Came | None:
        """The crash that a lost heartbeat or another boot shows."""
        if (answer := heartbeat.look()) is not None:
            heartbeat.good()
            boot = answer.output.last_line()
            before, self._seen.boot = self._seen.boot, boot
            if before is not None and boot != before:
                return self._crashed(process.seconds, "the machine was restarted")
        if heartbeat.lost:
            since = heartbeat.failing_since or time.monotonic()
            after = max(min(since - process.begun, process.seconds), 0.0)
            return self._crashed(after, f"the machine went silent ({heartbeat.why})")
        return None

    def _crashed(self, after_s: float, why: str) -> Came:
        return Came(Verdict(Outcome.CRASH, {"failed_after_s": after_s}, why), gone=True)

    def _probed(
        self, probe: Companion, process: Process, heartbeat: Companion | None
    ) -> Came | None:
        """What a reading past its stop, or a lost probe, makes of the run."""
        known = self._machine.definition.readings
        if (answer := probe.look()) is not None:
            try:
                readings = readings_in(answer.output.text(), known)
            except NoReadings as error:
                probe.miss(str(error))
            else:
                probe.good()
                self._seen.readings = highest(self._seen.readings, readings)
                if name := past_stop(readings, known):
                    facts = {"run_minutes": max(process.seconds / 60, 1e-4)}
                    return Came(
                        Verdict(Outcome.STOPPED, facts, f"{name} passed its stop"), unsafe=True
                    )
        if not probe.lost:
            return None
        if heartbeat is not None and heartbeat.failed:
            return None  # the machine may be gone; its heartbeat will tell in a moment
        return Came(
            Verdict(Outcome.VOID, {}, f"the probe was lost: {probe.why}"[:200]), unsafe=True
        )

    def _after(self, process: Process, heartbeat: Companion | None) -> Came | None:
        """A workload that failed may have failed because the machine is gone."""
        if process.status() == 0 or heartbeat is None:
            return None
        heartbeat.hurry()
        answers = heartbeat.answers
        while heartbeat.answers == answers and not self._halt.at_once:
            if gone := self._beat(heartbeat, process):
                return gone
            time.sleep(POLL_S)
        return None

    def _with_readings(self, came: Came) -> Came:
        if not self._seen.readings:
            return came
        told = came.verdict.facts.get("readings", {})
        facts = {**came.verdict.facts, "readings": {**self._seen.readings, **told}}
        verdict = Verdict(came.verdict.outcome, facts, came.verdict.why)
        return Came(verdict, came.gone, came.interrupted, came.unsafe)
