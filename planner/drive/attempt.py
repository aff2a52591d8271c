"""One setting: its values applied, its workload run, and what that came to."""

import time
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass

from planner.domain.dialling import recovery_minutes
from planner.domain.knob import Setting
from planner.domain.launch import Launch
from planner.domain.outcome import Outcome
from planner.domain.run import Proposal
from planner.domain.tables import Workload
from planner.drive.halt import Halt
from planner.drive.judging import Verdict
from planner.drive.machine import Machine
from planner.drive.one_run import Came, OneRun
from planner.drive.order import Order
from planner.drive.room import Room
from planner.drive.screen import Screen
from planner.drive.sensors import past_stop
from planner.drive.under_way import Begun, Phase
from planner.errors import CommandFailed, LedgerUnwritable

_WHOLE = 0.98
"""A pass of this share of its length is one of the whole."""


@dataclass(frozen=True, slots=True)
class Result:
    """What came of it, as `Study.record` takes it."""

    verdict: Verdict
    gone: bool = False
    """The machine does not answer, or was restarted."""
    unsafe: bool = False
    """A reading passed its stop, or the probe was lost."""


class Attempt:
    """Makes attempts; each is written down before anything is applied."""

    def __init__(
        self,
        machine: Machine,
        room: Room,
        halt: Halt,
        screen: Screen,
        write_down: Callable[[Begun | None], None],
    ) -> None:
        """`write_down` has it on disk how far the attempt has come."""
        self._machine = machine
        self._room = room
        self._halt = halt
        self._screen = screen
        self._write_down = write_down

    def run(self, proposal: Proposal, token: str) -> Result:
        """Run what was asked for.

        Raises:
            CommandFailed: it could not be begun; nothing is known of the setting.
        """
        workload = self._machine.definition.workloads[proposal.workload]
        order = self._order(
            proposal.settings, workload.name, proposal.run_minutes, proposal.number, token
        )
        return self._run(order, workload, proposal.run_minutes, proposal.number)

    def run_stock(self, stock: Setting, workload: Workload, number: int, token: str) -> Result:
        """Run the workload at values that nobody asked for.

        Raises:
            CommandFailed: it could not be begun.
        """
        order = self._order(stock, workload.name, workload.minutes, number, token)
        return self._run(order, workload, workload.minutes, 0)

    def _order(
        self, settings: Setting, workload: str, minutes: float, number: int, token: str
    ) -> Order:
        return self._machine.order(
            settings, run=number, workload=workload, seconds=minutes * 60, token=token
        )

    def _run(self, order: Order, workload: Workload, minutes: float, number: int) -> Result:
        assert workload.launch is not None
        self._check_sensors(order)
        self._write_down(Begun(number))
        begun = time.monotonic()
        if (failed := self._applied(order)) is not None:
            return self._timed(failed, begun, minutes)
        self._write_down(Begun(number, Phase.RUNNING, started=time.time()))
        try:
            came = self._watched(workload.launch, order, number)
        except CommandFailed:
            self._write_down(None)  # the workload never ran
            raise
        return self._timed(came, begun, minutes)

    def _check_sensors(self, order: Order) -> None:
        """Begin nothing that cannot be watched, or is too hot already.

        Raises:
            CommandFailed: the probe is lost, or a reading is past its stop.
        """
        readings = self._machine.read(order)
        if readings and (name := past_stop(readings, self._machine.definition.readings)):
            raise CommandFailed(f"{name} is past its stop before the run: {readings[name]:g}")

    def _applied(self, order: Order) -> Came | None:
        """Apply the values; what that came to if the machine did not live through it.

        Raises:
            CommandFailed: the command failed, and the machine is there.
        """
        boot_s = self._machine.drive.boot_s
        try:
            self._machine.apply(order)
        except CommandFailed as error:
            if self._halt.at_once:
                return Came(Verdict(Outcome.VOID, {}, "ended by hand"), interrupted=True)
            if self._machine.is_there(order):
                self._write_down(None)
                raise
            why = f"the machine went down while its values were applied ({error})"
            return Came(Verdict(Outcome.CRASH, {"failed_after_s": 0.0}, why), gone=True)
        if self._machine.comes_back(order):
            return None
        if self._halt.at_once:
            return Came(Verdict(Outcome.VOID, {}, "ended by hand"), interrupted=True)
        why = f"no answer within {boot_s:g} s after its values were applied"
        return Came(Verdict(Outcome.NO_START, {}, why), gone=True)

    def _watched(self, launch: Launch, order: Order, number: int) -> Came:
        started = time.time()

        def tick(seconds: float, readings: Mapping[str, float]) -> None:
            with suppress(LedgerUnwritable):  # it costs precision after a reset, not the run
                self._write_down(Begun(number, Phase.RUNNING, alive_s=seconds, started=started))
            self._screen.ticked(seconds, order.seconds, readings)

        return OneRun(self._machine, launch, order, self._room, self._halt).run(tick)

    def _timed(self, came: Came, begun: float, minutes: float) -> Result:
        """With the minutes that it took, and how long it ran if that was not its whole length."""
        outcome, facts = came.verdict.outcome, dict(came.verdict.facts)
        ran_s = facts.pop("ran_s", None)
        if ran_s is not None and ran_s < _WHOLE * minutes * 60:
            facts["run_minutes"] = ran_s / 60
        if "failed_after_s" in facts:
            facts["failed_after_s"] = round(min(facts["failed_after_s"], minutes * 60), 1)
        spent = (time.monotonic() - begun) / 60
        facts["minutes"] = round(spent + recovery_minutes(self._machine.definition, outcome), 4)
        return Result(Verdict(outcome, facts, came.verdict.why), came.gone, came.unsafe)
