"""What memory timings mean in nanoseconds, and what a module's SPD bytes say."""

from collections.abc import Mapping

COMMANDS: Mapping[str, tuple[str, str]] = {
    "explain": ("planner.cli.timing.explain", "What a set of timings means, in sentences."),
    "read": ("planner.cli.timing.read", "What a module's SPD bytes say, in sentences."),
}
"""Name: the module whose function `command` it is, and one line of help."""
