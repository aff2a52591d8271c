"""The commands with which the planner may turn the knobs and run the workload by itself."""

from dataclasses import dataclass
from re import Pattern

Command = tuple[str, ...]
"""A program and its arguments, handed over as they are: no shell reads them."""

WENT_DOWN = "the machine went down"
"""Begins the symptom of a run that took the machine down while nobody watched."""


@dataclass(frozen=True, slots=True)
class Drive:
    """The `[drive]` table: the person's own commands, and how their results are read."""

    apply: Command
    """Sets the values."""
    workload: Command
    """Runs once; how it ends is the outcome."""
    restore: Command
    """Puts the machine back as it was."""
    probe: Command = ()
    """Prints readings, one `name=value` a line; empty: none."""
    heartbeat: Command = ()
    """Succeeds while the machine under test answers; a line `boot=...` names its boot."""
    reset: Command = ()
    """Switches the machine under test off and on; empty: nothing can."""
    score: Pattern[str] | None = None
    """One group: the score in a line of the workload's output; the last match counts."""
    score_file: str = ""
    """A JSON file that the workload writes, relative to the study's folder; empty: none."""
    grace_minutes: float = 2.0
    """How much longer than its nominal run the workload may take."""
    apply_minutes: float = 1.0
    """How long setting or restoring the values may take."""
    probe_seconds: float = 5.0
    """From one probe to the next, and how long one may take."""
    heartbeat_seconds: float = 5.0
    """From one heartbeat to the next, and how long one may take."""
    heartbeat_misses: int = 3
    """So many in a row without an answer: the machine is down."""
    boot_minutes: float = 3.0
    """How long the machine may take to answer again."""

    @property
    def names_workload(self) -> bool:
        """Whether its command is told which workload to run, so that it can run any."""
        return any(word.endswith("{workload}") for word in self.workload)
