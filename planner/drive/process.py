"""One command in a process of its own, ended together with all that it started."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Mapping, Sequence
from contextlib import suppress
from pathlib import Path

from planner.domain.launch import Command
from planner.drive.output import Output
from planner.errors import CommandFailed

TOKEN = "PLANNER_TOKEN"
"""Environment variable by which a process that left its group is known again."""
GRACE_S = 2.0
"""How long a process may take to end when it is asked to, before it is killed."""
_POLL_S = 0.01
_WINDOWS = sys.platform == "win32"


class Process:
    """A command that was started."""

    def __init__(
        self,
        command: Command,
        words: Sequence[str],
        environment: Mapping[str, str],
        folder: Path,
        patterns: Mapping[str, str] | None = None,
    ) -> None:
        """Start it in `folder`.

        Raises:
            CommandFailed: there is no such program, or the system will not start it.
        """
        self._command = command
        # Its own, so that ending this command ends none that runs beside it.
        self._token = f"{environment.get(TOKEN, '')}.{os.urandom(6).hex()}"
        self.begun = time.monotonic()
        """When it was started, by the monotonic clock."""
        self._ended_s: float | None = None
        self.ended_by_us = False
        """Whether `end` found it running."""
        try:
            self._popen = subprocess.Popen(
                words[0] if command.shell else list(words),
                shell=command.shell,
                cwd=folder,
                env={**environment, TOKEN: self._token},
                stdin=subprocess.DEVNULL,
                stdout=subprocess.PIPE,
                stderr=subprocess.STDOUT,
                # Of its own, so that Ctrl-C at the terminal reaches the planner alone.
                start_new_session=not _WINDOWS,
                creationflags=0x200 if _WINDOWS else 0,  # CREATE_NEW_PROCESS_GROUP
            )
        except (OSError, ValueError) as error:
            reason = getattr(error, "strerror", None) or str(error)
            raise CommandFailed(f"{words[0]!r} cannot be started: {reason}") from None
        assert self._popen.stdout is not None
        self.output = Output(self._popen.stdout, patterns or {})

    @property
    def seconds(self) -> float:
        """How long it has run, or ran."""
        return time.monotonic() - self.begun if self._ended_s is None else self._ended_s

    @property
    def overdue(self) -> bool:
        """Whether it runs for longer than its limit."""
        return self._ended_s is None and self.seconds > self._command.limit_s

    def status(self) -> int | None:
        """Its exit status, the negative number of the signal that ended it, or None: it runs."""
        status = self._popen.poll()
        if status is not None and self._ended_s is None:
            self._ended_s = time.monotonic() - self.begun
        return status

    def end(self, grace_s: float = GRACE_S) -> None:
        """End it if it still runs, and in any case all that it started."""
        if self.status() is None:
            self.ended_by_us = True
            _signal_group(self._popen, gently=True)
            until = time.monotonic() + grace_s
            while self.status() is None and time.monotonic() < until:
                time.sleep(_POLL_S)
        _signal_group(self._popen, gently=False)
        end_left_over(self._token)
        with suppress(subprocess.TimeoutExpired):
            self._popen.wait(GRACE_S)
        self.status()
        self.output.finish(0.5)


def end_left_over(token: str) -> int:
    """End the processes whose token begins so, wherever they went; how many there were."""
    if not token or not Path("/proc/self/environ").exists():
        return 0
    mark, found = f"{TOKEN}={token}".encode(), 0
    for entry in Path("/proc").iterdir():
        if not entry.name.isdecimal() or int(entry.name) == os.getpid():
            continue
        with suppress(OSError):
            if any(v.startswith(mark) for v in (entry / "environ").read_bytes().split(b"\0")):
                os.kill(int(entry.name), signal.SIGKILL)
                found += 1
    return found


def signal_name(number: int) -> str:
    """`SIGSEGV` for 11."""
    try:
        return signal.Signals(number).name
    except ValueError:
        return f"signal {number}"


def _signal_group(popen: subprocess.Popen[bytes], gently: bool) -> None:
    if sys.platform == "win32":
        force = [] if gently else ["/F"]
        subprocess.run(
            ["taskkill", *force, "/T", "/PID", str(popen.pid)], capture_output=True, check=False
        )
        return
    # Its group has its number, and keeps it for as long as one member lives.
    with suppress(ProcessLookupError, PermissionError):
        os.killpg(popen.pid, signal.SIGTERM if gently else signal.SIGKILL)
