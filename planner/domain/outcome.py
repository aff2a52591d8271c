"""What a run can come to."""

from enum import StrEnum


class Outcome(StrEnum):
    """The result of one run at one setting."""

    held: bool
    """Whether the setting held for as long as it ran."""
    failed: bool
    """Whether the setting did not hold."""
    restarts: bool
    """Whether the machine starts anew after it."""

    def __new__(cls, word: str, ends: str = "", restarts: bool = False) -> "Outcome":
        """`ends`: "held", "failed" or nothing said."""
        member = str.__new__(cls, word)
        member._value_ = word
        member.held, member.failed, member.restarts = ends == "held", ends == "failed", restarts
        return member

    PASS = "pass", "held"
    """It held for the whole run."""
    CRASH = "crash", "failed", True
    """Hang, reset or blank screen while it ran."""
    NO_START = "no-start", "failed", True
    """Memory did not train, or no boot; recovery is long and the firmware often back at stock."""
    ERRORS = "errors", "failed"
    """Finished or stopped with counted errors: of memory, corrected machine checks, artifacts."""
    WRONG_RESULT = "wrong-result", "failed"
    """It finished, and the result is not the right one."""
    POWER_OFF = "power-off", "failed", True
    """Supply or breaker tripped: a power event."""
    STOPPED = "stopped", "held"
    """It held for the minutes given, then the person stopped it."""
    VOID = "void"
    """Says nothing about the setting."""

    __hash__ = str.__hash__  # Enum's own is slow


class Capped(StrEnum):
    """Why a pass is evidence that it holds, but never a best."""

    POWER = "power"
    HEAT = "heat"
    CURRENT = "current"
    VOLTAGE = "voltage"
    SCORE = "score"
    """The score counts for nothing (wrong version, interrupted, not claimable)."""
