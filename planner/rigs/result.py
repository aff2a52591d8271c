"""What a simulated run comes to."""

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class RigRun:
    """One run on a simulated rig."""

    outcome: str
    """`pass` or `crash`, or another outcome that a study knows."""
    minutes: float
    """Bench minutes all in: dialling, the run, and the restart after a crash."""
    failed_after_s: float | None = None
    """Seconds from the start of the run to its crash."""
    score: float | None = None
    subscores: dict[str, float] = field(default_factory=dict)
    readings: dict[str, float] = field(default_factory=dict)
