"""What a study may run by itself: the person's own commands, and how their results are read."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from planner.domain.outcome import Outcome

PLACES = ("run", "seconds", "workload", "settings_file")
"""What `{...}` in an argument may stand for, beside the names of knobs."""


@dataclass(frozen=True, slots=True)
class Command:
    """One command: a list of arguments, or a line for the shell if the person says so."""

    words: tuple[str, ...]
    """The program and its arguments; of a shell line the line alone."""
    limit_s: float
    """Seconds after which it is ended."""
    shell: bool = False


@dataclass(frozen=True, slots=True)
class Judging:
    """How an end of the workload is read: exit status, output, a file that it writes."""

    exits: Mapping[int, Outcome] = field(default_factory=lambda: {0: Outcome.PASS})
    """Outcome by exit status; one that is not listed is a wrong result."""
    score: str = ""
    """Regular expression whose last match in a line of the output is the score."""
    subscores: Mapping[str, str] = field(default_factory=dict)
    """The same for parts of the score, by name."""
    errors: str = ""
    """The same for the count of errors; each match replaces the one before."""
    wrong: str = ""
    """Regular expression that shows a wrong result wherever it matches."""
    result_file: str = ""
    """JSON file, inside the study's folder, that the workload writes."""


@dataclass(frozen=True, slots=True)
class Launch:
    """How a workload is run."""

    command: Command
    """Its limit is what a run may take at the most: past it, it hangs."""
    judging: Judging = Judging()
    until_stopped: bool = False
    """It runs until it is ended: that it still ran after its minutes is the pass."""
    least_s: float = 0.0
    """A pass that ended sooner says nothing: something is wrong with the command."""


@dataclass(frozen=True, slots=True)
class Watch:
    """A command that is run again and again beside the workload."""

    command: Command
    every_s: float
    misses: int = 1
    """How many failures in a row count."""


@dataclass(frozen=True, slots=True)
class Drive:
    """The `[drive]` table: what runs the loop when nobody types."""

    apply: Command
    """Sets the values of a proposal."""
    restore: Command | None = None
    """Brings stock values back."""
    reset: Command | None = None
    """Power-cycles a machine that hangs."""
    probe: Watch | None = None
    """Prints readings."""
    heartbeat: Watch | None = None
    """Succeeds while the machine under test answers."""
    boot_s: float = 180.0
    """How long the machine may take to answer after a restart."""
    no_starts: int = 2
    """So many failures to start in a row end the drive."""
    failures: int = 6
    """So many runs in a row that did not hold end the drive."""

    def commands(self) -> Iterator[tuple[str, Command]]:
        """Every command with the name of its key."""
        watched = {"probe": self.probe, "heartbeat": self.heartbeat}
        plain = {"apply": self.apply, "restore": self.restore, "reset": self.reset}
        yield from ((name, command) for name, command in plain.items() if command)
        yield from ((name, watch.command) for name, watch in watched.items() if watch)
