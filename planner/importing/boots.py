"""Which imported runs began with a start of the machine, told from the numbers of their boots."""

from planner.domain.outcome import Outcome
from planner.importing.rows import ToldRun

Boot = tuple[int, bool]
"""Number of a boot, as the file counts them, and whether it was a cold one."""


class BootTrail:
    """Follows the rows: on which boot of the file the machine stands."""

    def __init__(self, now: Boot | None) -> None:
        """`now`: the boot that the study stands on; None where it is none of the file's."""
        self._now = now

    def start_of(self, told: ToldRun) -> str | None:
        """How the machine was started for this run, "cold" or "warm"; None: it stood already."""
        if told.outcome is Outcome.VOID:
            return None
        if isinstance(told.boot, str):
            return told.boot
        if told.boot is None:
            return "cold" if told.cold else None
        if (told.boot, bool(told.cold)) == self._now:
            return None
        return "cold" if told.cold else "warm"

    def after(self, told: ToldRun) -> None:
        """Move on past a run that is on record now."""
        if told.outcome is Outcome.VOID:
            return
        if isinstance(told.boot, int):
            self._now = (told.boot, bool(told.cold))
        elif told.boot is not None or told.cold:
            self._now = None
        if self._now is not None and told.outcome.restarts:
            self._now = (self._now[0] + 1, told.outcome is not Outcome.CRASH)
