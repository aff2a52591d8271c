"""The commands with which the planner may turn the knobs and run the workload by itself."""

from dataclasses import dataclass
from re import Pattern

Command = tuple[str, ...]
"""A program and its arguments, handed over as they are: no shell reads them."""


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
