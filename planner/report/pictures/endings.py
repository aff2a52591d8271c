"""How a run ended, as pictures tell it apart."""

from enum import Enum

from planner.domain.definition import Definition
from planner.domain.outcome import Outcome
from planner.domain.run import Run


class Ending(Enum):
    """What a mark stands for; each has its own shape."""

    PASSED = "passed"
    SHORT = "held, but not for a nominal run"
    ERRORS = "errors counted"
    WRONG = "wrong result"
    CRASH = "crash"
    POWER_OFF = "power off"
    NO_START = "failed to start"

    __hash__ = object.__hash__  # Enum's own is slow, and every run is counted by its ending

    @property
    def failed(self) -> bool:
        """Whether the setting did not hold."""
        return self not in (Ending.PASSED, Ending.SHORT)


_FAILED = {
    Outcome.ERRORS: Ending.ERRORS,
    Outcome.WRONG_RESULT: Ending.WRONG,
    Outcome.CRASH: Ending.CRASH,
    Outcome.POWER_OFF: Ending.POWER_OFF,
    Outcome.NO_START: Ending.NO_START,
}


def ending_of(run: Run, definition: Definition) -> Ending:
    """How a run ended that says something; a pass shorter than its workload is none.

    Raises:
        KeyError: the run is void.
    """
    if not run.outcome.held:
        return _FAILED[run.outcome]
    workload = definition.workloads.get(run.workload)
    whole = workload is None or run.run_minutes >= workload.minutes
    return Ending.PASSED if whole else Ending.SHORT
