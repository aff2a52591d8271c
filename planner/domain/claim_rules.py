"""What a score must come with before its owner shows it: a checklist of the person's own."""

from dataclasses import dataclass

from planner.domain.expression import Inequality


@dataclass(frozen=True, slots=True)
class ClaimRules:
    """The `[claim_rules]` table; what is empty is not asked for."""

    workload: str = ""
    """Whose scores they are for; empty: for those of all."""
    version: str = ""
    """Of the workload, as its own table tells it."""
    subscores: bool = False
    """Whether all sub-scores must be of the one run."""
    readings: tuple[str, ...] = ()
    """Readings that must be recorded with the run."""
    pictures: tuple[str, ...] = ()
    """Names of files that must go with the sheet."""
    cooling: tuple[str, ...] = ()
    """Kinds of cooling that count."""
    bracket: str = ""
    """The highest cost bracket that counts."""
    settings: tuple[Inequality, ...] = ()
    """What must hold between knobs and derived values."""
    trusted_clock: tuple[str, ...] = ()
    """Knobs that skew the machine's own timer when they leave stock, as a base clock may; then
    the workload must be timed from outside."""
    also: tuple[str, ...] = ()
    """What no program can see, for the person to see to."""


NO_RULES = ClaimRules()
"""Nothing is asked for."""
