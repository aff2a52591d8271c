"""What a run can come to."""

from enum import StrEnum


class Outcome(StrEnum):
    """The result of one run at one setting."""

    PASS = "pass"
    """It held for the whole run."""
    CRASH = "crash"
    """Hang, reset or blank screen while it ran."""
    NO_START = "no-start"
    """Memory did not train, or no boot; recovery is long and the firmware often back at stock."""
    ERRORS = "errors"
    """Finished or stopped with counted errors: of memory, corrected machine checks, artifacts."""
    WRONG_RESULT = "wrong-result"
    """It finished, and the result is not the right one."""
    POWER_OFF = "power-off"
    """Supply or breaker tripped: a power event."""
    STOPPED = "stopped"
    """It held for the minutes given, then the person stopped it."""
    VOID = "void"
    """Says nothing about the setting."""

    @property
    def failed(self) -> bool:
        """Whether the setting did not hold."""
        return self in _FAILED

    @property
    def held(self) -> bool:
        """Whether the setting held for as long as it ran."""
        return self in (Outcome.PASS, Outcome.STOPPED)

    @property
    def restarts(self) -> bool:
        """Whether the machine starts anew after it."""
        return self in _RESTARTS


_RESTARTS = frozenset({Outcome.CRASH, Outcome.NO_START, Outcome.POWER_OFF})
_FAILED = _RESTARTS | {Outcome.ERRORS, Outcome.WRONG_RESULT}


class Capped(StrEnum):
    """Why a pass is evidence that it holds, but never a best."""

    POWER = "power"
    HEAT = "heat"
    CURRENT = "current"
    VOLTAGE = "voltage"
    SCORE = "score"
    """The score counts for nothing (wrong version, interrupted, not claimable)."""
