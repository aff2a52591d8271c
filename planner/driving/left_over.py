"""Processes of a drive that was killed outright: they bear its token, wherever they went."""

import os
import signal
from contextlib import suppress
from pathlib import Path

TOKEN = "PLANNER_DRIVE"
"""The variable that names the drive in the environment of all that it starts."""
_PROCESSES = Path("/proc")


def end_left_over(token: str) -> int:
    """End those of this drive; how many there were. Only Linux shows them; elsewhere 0."""
    if not token or not (_PROCESSES / "self" / "environ").exists():
        return 0
    mark, found = f"{TOKEN}={token}".encode(), 0
    for entry in _PROCESSES.iterdir():
        if not entry.name.isdecimal() or int(entry.name) == os.getpid():
            continue
        with suppress(OSError):  # it is gone, or another person's
            if mark in (entry / "environ").read_bytes().split(b"\0"):
                os.kill(int(entry.name), signal.SIGKILL)
                found += 1
    return found
