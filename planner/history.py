"""What a study knows, as told by its ledger: everything that strategies and renderers may see."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property, wraps
from typing import TypeVar, cast

from planner.domain.definition import Definition
from planner.domain.event import Kind
from planner.domain.knob import Setting
from planner.domain.outcome import Outcome
from planner.domain.run import Change, Proposal, Run

T = TypeVar("T")


@dataclass(frozen=True)
class Changed:
    """A told change of the machine that widens older evidence."""

    what: str
    groups: tuple[str, ...]
    """Groups whose evidence it widens; empty: all."""


@dataclass(frozen=True, slots=True)
class Milestone:
    """An entry between the runs that a look back should show."""

    kind: Kind
    """Accepted, changed, defined, closed or reopened."""
    after: int
    """How many runs that count were on record by then."""
    what: str = ""
    """What changed, or whose risk was accepted; for people."""
    up_to: float | None = None
    """Up to where it was accepted."""


@dataclass(frozen=True)
class History:
    """Everything that strategies, models and renderers may know. Never changes."""

    definitions: tuple[Definition, ...]
    runs: tuple[Run, ...]
    """All runs by number of recording, void ones included."""
    pending: Mapping[str, Proposal]
    """Proposals not yet answered, by bench."""
    accepted: Mapping[str, float]
    """Knobs and derived values whose own risk was accepted, and up to where."""
    machine: Setting
    """What the machine holds now, as far as told."""
    restarting: bool
    """Whether it starts anew after the last run, as after a crash."""
    boot: int
    boot_is_cold: bool
    changes: tuple[Changed, ...]
    closed: str
    """The reason of the person who closed it; empty: open."""
    reopened: bool
    """Whether the person overruled the closing rules since the definition last changed."""
    verdict: str
    """The last reason that a closing rule gave, as written down."""
    next_number: int
    told: int
    """Counts the entries that tell of runs, definitions, changes and risks."""
    milestones: tuple[Milestone, ...] = ()
    """What else was told between the runs, in order."""

    @property
    def definition(self) -> Definition:
        """The last good definition."""
        return self.definitions[-1]

    @cached_property
    def evidence(self) -> tuple[Run, ...]:
        """The runs that say something: all but the void ones."""
        return tuple(run for run in self.runs if run.outcome is not Outcome.VOID)

    @cached_property
    def minutes_spent(self) -> float:
        """Bench minutes of all runs that count."""
        return sum(run.minutes for run in self.evidence)

    @property
    def minutes_left(self) -> float | None:
        """Bench minutes left of the evening; None: it has no end."""
        bound = self.definition.goal.minutes
        return None if bound is None else max(bound - self.minutes_spent, 0.0)

    @cached_property
    def by_number(self) -> Mapping[int, Run]:
        """Runs by their number."""
        return {run.number: run for run in self.runs}

    def expecting(self) -> "History":
        """The history in which every pending run has ended as is most likely, so far unscored.

        What is chosen under it is not what another bench is about to find out: the "kriging
        believer" of D. Ginsbourger, R. Le Riche and L. Carraro, Kriging is well-suited to
        parallelize optimization, 2010.
        """
        return replace(self, runs=(*self.runs, *map(self._expected, self.pending.values())))

    def _expected(self, asked: Proposal) -> Run:
        return Run(
            number=asked.number,
            outcome=Outcome.PASS if asked.pass_probability >= 0.5 else Outcome.CRASH,
            settings=asked.settings,
            ran=asked.settings,
            workload=asked.workload,
            run_minutes=asked.run_minutes,
            minutes=asked.minutes,
            usual_minutes=asked.minutes,
            boot=self.boot,
            cold=self.boot_is_cold,
            definition=len(self.definitions) - 1,
            bench=asked.bench,
            epoch=len(self.changes),
        )

    def against_machine(self, proposal: Proposal) -> Proposal:
        """The proposal with its changes against what the machine holds now."""
        knobs = self.definition.knobs
        changes = tuple(
            Change(name, self.machine[name], value, knobs[name].unit)
            for name, value in proposal.settings.items()
            if name in knobs and self.machine[name] != value
        )
        return replace(proposal, changes=changes)


def taken_over(earlier: object, later: T, names: Iterable[str]) -> T:
    """`later` with those derived properties of `earlier` that were worked out and still hold."""
    for name in names:
        if name in earlier.__dict__:
            later.__dict__[name] = earlier.__dict__[name]
    return later


def once(derive: Callable[[History], T]) -> Callable[[History], T]:
    """Work a function of the history alone out once for each history.

    The answer is kept with the history, as its own derived properties are: it never changes.
    """
    name = f"{derive.__module__}.{derive.__qualname__}"

    @wraps(derive)
    def derived(history: History) -> T:
        known = history.__dict__
        if name not in known:
            known[name] = derive(history)
        return cast(T, known[name])

    return derived
