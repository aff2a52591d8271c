"""What several parts of a report call the same: a run's heading, a cause of a failure."""

from planner.peak.blame import STRAY


def run_anchor(number: int) -> str:
    """By which links name the heading of a run."""
    return f"run-{number}"


def cause_words(name: str | None) -> str:
    """A cause of a failed run; empty where none is named."""
    return "" if name is None else "a stray crash" if name == STRAY else name
