"""One command of the person's, its output kept in bounds, ended with all its children.

It starts in a session of its own. POSIX only: process groups are what ends the children.
"""

import os
import signal
import subprocess
import time
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from threading import Event, Thread
from typing import IO

from planner.domain.drive import Command
from planner.entries.few_words import printable
from planner.errors import InputError

KEPT_BYTES = 1_000_000
"""Of the output only the last part is kept, whatever floods it."""
_LONGEST_WORDS = 150
"""Of the last line that a command printed, so many characters from its end are told."""
_CHUNK = 65_536
_LOOK_S = 0.1
"""How often it is asked whether to wait any longer."""
_TO_END_S = 10.0
"""How long an ended command may take to be gone."""
_LAST_WORDS_S = 1.0
"""How long output is waited for from a child that left the group and holds the pipe."""


@dataclass(frozen=True, slots=True)
class Ended:
    """How a command ended."""

    code: int
    """Its exit code; below zero: the signal that ended it."""
    seconds: float
    """From its start to its own end."""
    output: str
    """The last part of what it printed, on both streams; bytes that are no UTF-8 as U+FFFD."""
    stuck: bool = False
    """Whether it could not be ended, as where a driver holds it."""

    @property
    def symptom(self) -> str:
        """What was seen, in a few words."""
        if self.code >= 0:
            return f"exit code {self.code}"
        with suppress(ValueError):
            return f"ended by {signal.Signals(-self.code).name}"
        return f"ended by signal {-self.code}"

    @property
    def with_last_words(self) -> str:
        """What was seen, and the last line that it printed, in which it may have said why."""
        lines = (line.strip() for line in reversed(self.output.splitlines()))
        last = next((line for line in lines if line), "")
        words = printable(last[-_LONGEST_WORDS:])
        return f"{self.symptom}: {words}" if words else self.symptom


class Process:
    """A command that runs.

    Raises:
        InputError: it cannot be started.
    """

    def __init__(self, what: str, command: Command, folder: Path, told: Mapping[str, str]) -> None:
        """`what` names it in messages; `told` joins the environment; it starts in `folder`."""
        try:
            self._process = subprocess.Popen(
                command,
                cwd=folder,
                env={**os.environ, **told},
                stdin=subprocess.DEVNULL,
                stdout=subprocess.PIPE,
                stderr=subprocess.STDOUT,
                start_new_session=True,
            )
        except (OSError, ValueError) as error:
            raise InputError(
                f"study.toml: [drive]: {what} = {list(command)}: cannot be started: {error}"
            ) from None
        self._started = time.monotonic()
        self._ended_at = self._started
        self._ended = Event()
        self._kept = bytearray()
        assert self._process.stdout is not None
        self._reader = Thread(target=self._read, args=(self._process.stdout,), daemon=True)
        self._reader.start()
        Thread(target=self._wait, daemon=True).start()

    @property
    def seconds(self) -> float:
        """Since its start, up to its end."""
        return (self._ended_at if self._ended.is_set() else time.monotonic()) - self._started

    def ends_within(self, seconds: float, given_up: Callable[[], bool] = lambda: False) -> bool:
        """Wait for its own end, or until it is given up; whether the end came."""
        until = time.monotonic() + seconds
        while not given_up():
            left = until - time.monotonic()
            if self._ended.wait(min(max(left, 0.0), _LOOK_S)):
                return True
            if left <= _LOOK_S:
                break
        return self._ended.is_set()

    def end(self) -> Ended:
        """End what is left of it, children that outlive it included."""
        with suppress(ProcessLookupError, PermissionError):
            os.killpg(self._process.pid, signal.SIGKILL)
        stuck = not self._ended.wait(_TO_END_S)
        self._reader.join(_LAST_WORDS_S)
        output = bytes(self._kept).decode("utf-8", errors="replace")
        code = -signal.SIGKILL if stuck else self._process.returncode
        return Ended(code, self.seconds, output, stuck)

    def _wait(self) -> None:
        self._process.wait()
        self._ended_at = time.monotonic()
        self._ended.set()

    def _read(self, pipe: IO[bytes]) -> None:
        with suppress(OSError, ValueError), pipe:
            while chunk := os.read(pipe.fileno(), _CHUNK):
                self._kept += chunk
                del self._kept[:-KEPT_BYTES]
