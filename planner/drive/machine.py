"""The machine under test as the person's commands reach it."""

import time
from collections.abc import Callable, Mapping

from planner.domain.definition import Definition
from planner.domain.launch import Command, Drive, Launch, Watch
from planner.drive.companion import Companion
from planner.drive.halt import Halt
from planner.drive.judging import patterns
from planner.drive.order import Order
from planner.drive.process import Process
from planner.drive.room import Room
from planner.drive.sensors import NoReadings, readings_in
from planner.errors import CommandFailed

_POLL_S = 0.01


class Machine:
    """Runs the commands of a study's `[drive]`."""

    def __init__(self, definition: Definition, drive: Drive, room: Room, halt: Halt) -> None:
        """Nothing is run yet."""
        self.boot: str | None = None
        """What its heartbeat printed last: it changes where the machine names its boot."""
        self.definition = definition
        self.drive = drive
        self._room = room
        self._halt = halt

    def order(self, settings: Mapping[str, float | str], **told: object) -> Order:
        """An order to set these values."""
        return Order(self.definition, settings, self._room.settings, **told)  # type: ignore[arg-type]

    def apply(self, order: Order) -> None:
        """Set the values.

        Raises:
            CommandFailed: the command could not, or did not end in time.
        """
        order.hand_over()
        self._do("apply", self.drive.apply, order)

    def restore(self, token: str) -> None:
        """Bring stock values back, where there is a command for it.

        Raises:
            CommandFailed: it could not.
        """
        if self.drive.restore is not None:
            stock = self.order(self.definition.stock, token=token)
            stock.hand_over()
            self._do("restore", self.drive.restore, stock, whatever_happens=True)

    def reset(self, token: str) -> None:
        """Power-cycle it.

        Raises:
            CommandFailed: there is no such command, or it could not.
        """
        if self.drive.reset is None:
            raise CommandFailed("it does not answer, and [drive] has no reset command")
        self._do("reset", self.drive.reset, self.order(self.definition.stock, token=token))

    def is_there(self, order: Order) -> bool:
        """Whether it answers now; True where there is no heartbeat."""
        beats = self._beats(order)
        return beats is None or self._answered(beats, lambda: beats.lost)

    def comes_back(self, order: Order) -> bool:
        """Whether it answers within the time that it may take to start."""
        beats = self._beats(order)
        until = time.monotonic() + self.drive.boot_s
        return beats is None or self._answered(beats, lambda: time.monotonic() > until)

    def _beats(self, order: Order) -> Companion | None:
        return self._companion(self.drive.heartbeat, order) if self.drive.heartbeat else None

    def _answered(self, beats: Companion, given_up: Callable[[], bool]) -> bool:
        try:
            while not given_up() and not self._halt.at_once:
                if (answer := beats.look()) is not None:
                    self.boot = answer.output.last_line()
                    return True
                time.sleep(_POLL_S)
            return False
        finally:
            beats.end()

    def read(self, order: Order) -> dict[str, float] | None:
        """Its readings now; None where there is no probe.

        Raises:
            CommandFailed: the probe is lost.
        """
        if self.drive.probe is None:
            return None
        process = self._do("probe", self.drive.probe.command, order)
        try:
            return readings_in(process.output.text(), self.definition.readings)
        except NoReadings as error:
            raise CommandFailed(f"probe: {error}") from None

    def start(self, launch: Launch, order: Order) -> Process:
        """Start the workload.

        Raises:
            CommandFailed: there is no such program.
        """
        return self._process(launch.command, order, patterns(launch.judging))

    def companions(self, order: Order) -> tuple[Companion | None, Companion | None]:
        """Probe and heartbeat, to go on beside a workload."""
        made = [
            self._companion(watch, order) if watch else None
            for watch in (self.drive.probe, self.drive.heartbeat)
        ]
        return made[0], made[1]

    def _companion(self, watch: Watch, order: Order) -> Companion:
        return Companion(watch, self._starter(watch.command, order))

    def _starter(self, command: Command, order: Order) -> Callable[[], Process]:
        return lambda: self._process(command, order)

    def _process(
        self, command: Command, order: Order, searched: Mapping[str, str] | None = None
    ) -> Process:
        words, environment = order.words(command), order.environment()
        return Process(command, words, environment, self._room.study, searched)

    def _do(
        self, name: str, command: Command, order: Order, whatever_happens: bool = False
    ) -> Process:
        """Run a command to its end; what it leaves running, as a service, is left alone."""
        process = self._process(command, order)
        while process.status() is None and not process.overdue:
            if self._halt.at_once and not whatever_happens:
                break
            time.sleep(_POLL_S)
        status = process.status()
        if status is None:
            reason = "did not end in time" if process.overdue else "was interrupted"
            process.end()
            raise CommandFailed(f"{name}: {reason} ({process.seconds:.1f} s)")
        process.output.finish(0.2)
        if status != 0:
            said = process.output.last_line()
            raise CommandFailed(f"{name}: exit status {status}" + (f": {said}" if said else ""))
        return process
