"""What stands in a report beyond the settings sheet: frozen, whatever the aim."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from planner.domain.definition import Definition
from planner.domain.knob import Knob, Value
from planner.domain.run import Change, Run
from planner.history import History
from planner.models.findings import Edge, Recommendation
from planner.models.scores.gap import GapTable
from planner.report.sheet.nouns import Sheet
from planner.report.written.blocks import Drawn

Interval = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Made:
    """One run with what it changed."""

    run: Run
    definition: Definition
    """The study as it was when it ran."""
    turned: tuple[Change, ...]
    """Knobs whose value as set differs from the run's before."""
    told: tuple[str, ...]
    """What else was told since the run before, in words."""
    beaten: float | None
    """The best claimable score before, which this run's is above."""
    first_score: bool
    """Whether it is the first claimable score."""
    hardest: tuple[str, ...]
    """Knobs of which no run before had held at so hard a value, with the value, in words."""
    edge: tuple[Interval, Interval] | None
    """Interval of the followed knob's edge before and after it; None: it says nothing of it."""
    shares: Mapping[str, float]
    """Of a failed run of a peak attempt, each knob's share of the blame as all runs tell today;
    the empty name stands for a stray crash."""


@dataclass(frozen=True, slots=True)
class Pays:
    """What turning a knob does to the score, as a share of it."""

    before: Value
    after: Value
    middle: float
    interval: Interval
    level: float
    """Credibility of the interval."""


@dataclass(frozen=True, slots=True)
class Learnt:
    """What the runs tell of one knob."""

    knob: Knob
    kept: Value
    """Its value in the setting to keep."""
    values: int
    """How many values ran."""
    held: tuple[Value, int] | None
    """The hardest value at which a run held, whatever the other knobs, and the first such run."""
    failed: tuple[Value, int] | None
    """The easiest value at which one failed, and the first such run."""
    passes: Mapping[Value, tuple[int, int]]
    """Of a choice, at each value how many runs held, of how many."""
    edge: Edge | None
    blamed: float | None
    """How many failed runs are blamed on it, shares summed; None: blame is not worked out."""
    pays: Pays | None


@dataclass(frozen=True, slots=True)
class Account:
    """Everything in a report."""

    history: History
    sheet: Sheet
    best: Recommendation
    version: str
    """Of the planner."""
    made: tuple[Made, ...]
    """Every run, void ones included, in the order of recording."""
    told_last: tuple[str, ...]
    """What was told after the last run."""
    learnt: tuple[Learnt, ...]
    followed: Knob | None
    """The knob whose edge is told run by run; None: of a peak attempt."""
    beside: str
    """At which value of a frontier's second knob it is told, in words; empty of other aims."""
    gap: GapTable | None
    """None: no score can be claimed."""
    drawn: tuple[Drawn, ...] = field(repr=False)
