"""A claimed score with all that belongs to the one run that made it, and to its setting."""

from dataclasses import dataclass

from planner.report.sheet.line import Line
from planner.report.sheet.rules import Judged


@dataclass(frozen=True, slots=True)
class Measured:
    """One reading of a run."""

    name: str
    unit: str
    value: float | None
    """None: it was not recorded with this run."""
    source: str
    stop: float | None
    """The stop that it is past; None: it is not."""


@dataclass(frozen=True, slots=True)
class Conditions:
    """What else was told of the run that made a score."""

    time: str
    """UTC wall clock of the entry, as recorded."""
    bench: str
    run_minutes: float
    nominal_minutes: float
    """The workload's full length by the definition that the run was made under."""
    boot: str
    """"cold", "warm", or empty where nothing was told."""
    readings: tuple[Measured, ...]
    asked: bool
    """Whether the planner had proposed it; False: the person's own run."""
    origin: str
    """What a run that was recorded elsewhere and taken in is known by; empty: recorded here."""
    amended: int
    """How many times the record was amended."""
    note: str
    symptom: str
    changes_before: tuple[str, ...]
    """Told changes of the machine before the run, oldest first."""
    changes_since: tuple[str, ...]
    """Told changes after it: the machine is not the one that ran."""


@dataclass(frozen=True, slots=True)
class Evidence:
    """How often runs at exactly one setting held; failed ones count whatever their length."""

    passes: int
    runs: int
    cold_boots: int
    """Cold boots among the passing runs."""
    lower_bound: float
    """Probability of a pass that the runs alone bound from below (Clopper-Pearson)."""
    confidence: float
    """Of that bound."""
    least_minutes: float
    """A run that held counts from this length on."""


@dataclass(frozen=True, slots=True)
class Repeats:
    """Claimable scores of several runs at exactly one setting: the run-to-run noise."""

    count: int
    lowest: float
    highest: float
    mean: float
    deviation: float
    """Sample standard deviation, in points."""


@dataclass(frozen=True, slots=True)
class Claimed:
    """The best claimable score of one workload in one region, with all that belongs to it."""

    run: int
    workload: str
    score: float
    subscores: tuple[tuple[str, float | None], ...]
    """Parts of the score, of this run alone; None: not recorded with it."""
    at_own_risk: tuple[str, ...]
    """Knobs and derived values above their everyday ceiling; empty: an everyday setting."""
    lines: tuple[Line, ...]
    conditions: Conditions
    evidence: Evidence
    repeats: Repeats | None
    """None where it ran there only once with a claimable score."""
    ceilings_then: tuple[tuple[str, float | None, str], ...]
    """Everyday ceilings, as name, value and unit, that it passed when it ran and does not today.

    The value None: none was filled in then.
    """
    rules: tuple[Judged, ...] = ()
    """The study's claim rules as they stand for this run."""

    @property
    def unmet(self) -> tuple[str, ...]:
        """Claim rules that are not met."""
        return tuple(rule.rule for rule in self.rules if rule.met is False)
