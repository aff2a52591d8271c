"""Whether the machine under test answers, and in which boot: the person's heartbeat command."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from threading import Event

from planner.domain.drive import Drive
from planner.driving.process import Process

_AGAIN_S = 0.5
"""From one try to reach the machine to the next."""


@dataclass(frozen=True, slots=True)
class Down:
    """The machine went down."""

    after_s: float
    """Its last sign of life."""
    why: str


class Pulse:
    """Asks, counts the misses, and compares what names the boot."""

    def __init__(
        self, drive: Drive, start: Callable[[], Process], given_up: Callable[[], bool]
    ) -> None:
        """`start` starts the heartbeat command; `given_up`: whether nobody waits any longer."""
        self._drive = drive
        self._start = start
        self._given_up = given_up
        self._boot = ""
        self._alive_s = 0.0
        self._misses = 0

    def begin(self) -> None:
        """A workload is about to start."""
        self._alive_s, self._misses = 0.0, 0

    def look(self, now_s: float, over: Callable[[], bool] = lambda: False) -> Down | None:
        """Ask once, `now_s` into the workload; None while it answers, or may do so again.

        `over`: whether no answer is waited for any longer, as the run has ended.
        """
        boot = self._ask(over)
        if boot is None and over():
            return None
        if boot is None:
            self._misses += 1
            misses = self._drive.heartbeat_misses
            return Down(self._alive_s, "no heartbeat") if self._misses >= misses else None
        before, self._boot, self._misses = self._boot, boot, 0
        if before and boot and before != boot:
            return Down(self._alive_s, "it was restarted")
        self._alive_s = now_s
        return None

    def settle(self, now_s: float) -> Down | None:
        """Ask until it answers or is down: something failed, perhaps for want of the machine."""
        while not self._given_up():
            if (down := self.look(now_s)) is not None or not self._misses:
                return down
            Event().wait(_AGAIN_S)
        return None

    def answers_within(self, seconds: float) -> bool:
        """Ask until it answers; whether it did."""
        until = time.monotonic() + seconds
        while (boot := self._ask()) is None:
            if self._given_up() or time.monotonic() >= until:
                return False
            Event().wait(_AGAIN_S)
        self._boot, self._misses = boot, 0
        return True

    def _ask(self, over: Callable[[], bool] = lambda: False) -> str | None:
        """What names the boot, empty where nothing does; None: no answer."""
        process = self._start()
        in_time = process.ends_within(
            self._drive.heartbeat_seconds, lambda: self._given_up() or over()
        )
        ended = process.end()
        if not in_time or ended.code:
            return None
        lines = (line.partition("=") for line in ended.output.splitlines())
        return next((boot.strip() for name, _, boot in lines if name.strip() == "boot"), "")
