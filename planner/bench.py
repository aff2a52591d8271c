"""What the planning machine tells of itself: its name, its boot, the time."""

import os
import platform
import time
from datetime import UTC, datetime
from pathlib import Path

_SAME_BOOT_S = 120.0
"""Boot instants that are told from clock and uptime differ by this much within one boot."""


def bench_name() -> str:
    """The name under which this machine writes: PLANNER_BENCH, else its host name."""
    name = os.environ.get("PLANNER_BENCH") or platform.node() or "bench"
    # The ledger's line has no room for quotes and control characters in it.
    return "".join(c if c.isprintable() and c not in '"\\' else "-" for c in name)[:60]


def state_folder() -> Path:
    """Where this person's agreements, and what saves time, are kept, outside every study.

    PLANNER_STATE, else planner/ under XDG_STATE_HOME, else under ~/.local/state.
    """
    if own := os.environ.get("PLANNER_STATE"):
        return Path(own)
    state = Path(os.environ.get("XDG_STATE_HOME") or "")
    home = state if state.is_absolute() else Path.home() / ".local" / "state"
    return home / "planner"


def utc_now() -> str:
    """UTC wall clock, ISO 8601 to the second."""
    return datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def boot_mark() -> str:
    """Identifies the present boot of this machine; empty where it cannot be told."""
    try:
        with open("/proc/sys/kernel/random/boot_id", encoding="ascii") as file:
            return file.read().strip()
    except (OSError, ValueError):
        pass
    uptime = _windows_uptime_s()
    return "" if uptime is None else f"at {time.time() - uptime:.0f}"


def boot_instant() -> float | None:
    """When this machine was started, by its wall clock in s since 1970; None: it cannot be told."""
    uptime = _windows_uptime_s()
    if uptime is None and hasattr(time, "CLOCK_BOOTTIME"):
        uptime = time.clock_gettime(time.CLOCK_BOOTTIME)
    return None if uptime is None else time.time() - uptime


def same_boot(one: str, other: str) -> bool:
    """Whether two marks are of one boot; an unknown one is taken for the same."""
    if not one or not other or one == other:
        return True
    if one.startswith("at ") and other.startswith("at "):
        return abs(float(one[3:]) - float(other[3:])) < _SAME_BOOT_S
    return False


def _windows_uptime_s() -> float | None:
    if platform.system() != "Windows":
        return None
    import ctypes

    ticks = ctypes.__dict__["windll"].kernel32.GetTickCount64
    ticks.restype = ctypes.c_uint64
    return float(ticks()) / 1000
