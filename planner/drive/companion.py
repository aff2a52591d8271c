"""A command that is run again and again while something else goes on."""

import time
from collections.abc import Callable

from planner.domain.launch import Watch
from planner.drive.process import Process
from planner.errors import CommandFailed


class Companion:
    """Starts its command when it is due, and never waits for it."""

    def __init__(self, watch: Watch, start: Callable[[], Process]) -> None:
        """`start` starts the command once."""
        self.watch = watch
        self.failed = 0
        """Failures in a row."""
        self.failing_since: float | None = None
        """When the first of them was started, by the monotonic clock."""
        self.why = ""
        """The reason of the last one."""
        self.answers = 0
        """How often it was good."""
        self._start = start
        self._running: Process | None = None
        self._due = time.monotonic()

    @property
    def lost(self) -> bool:
        """Whether it failed so often that it counts."""
        return self.failed >= self.watch.misses

    def look(self) -> Process | None:
        """Go on; the process that has just ended well, if one has."""
        now = time.monotonic()
        if self._running is None:
            if now < self._due:
                return None
            self._begun, self._due = now, now + self.watch.every_s
            try:
                self._running = self._start()
            except CommandFailed as error:
                self.miss(str(error))
            return None
        status, running = self._running.status(), self._running
        if status is None and not running.overdue:
            return None
        self._running = None
        running.end(grace_s=0)
        if status is None:
            self.miss(f"no answer within {self.watch.command.limit_s:g} s")
        elif status != 0:
            self.miss(f"exit status {status}: {running.output.last_line()}")
        else:
            return running
        return None

    def good(self) -> None:
        """What the last process printed was what it should be."""
        self.failed, self.failing_since, self.why = 0, None, ""
        self.answers += 1

    def hurry(self) -> None:
        """Run it anew now, and count its failures from here on."""
        self.end()
        self.failed, self.failing_since = 0, None
        self._due = time.monotonic()

    def miss(self, why: str) -> None:
        """It failed."""
        self.failed += 1
        self.why = why
        if self.failing_since is None:
            self.failing_since = self._begun

    def end(self) -> None:
        """End what still runs of it."""
        if self._running is not None:
            self._running.end(grace_s=0)
            self._running = None
