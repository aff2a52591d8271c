"""What was asked for, and what came of it."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import NamedTuple

from planner.domain.event import Event
from planner.domain.knob import Setting, Value
from planner.domain.outcome import Capped, Outcome
from planner.domain.terms import USUAL, Terms

_NONE: Mapping[str, float] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Change:
    """One knob that a proposal wants turned."""

    knob: str
    before: Value
    """What the machine holds now."""
    after: Value
    unit: str


@dataclass(frozen=True, slots=True)
class Proposal:
    """A setting that the planner asked for; on disk before anyone sees it."""

    number: int
    """The run's number; its run and amendments carry the same."""
    settings: Setting
    """A value for every knob."""
    workload: str
    run_minutes: float
    reason: str
    """Why this one, in a sentence."""
    pass_probability: float
    minutes: float
    """Expected for the whole attempt: dialling in, run, recovery if it fails."""
    start_when: str = ""
    """What to wait for before starting, as a cold start; empty: nothing."""
    at_own_risk: tuple[str, ...] = ()
    """Knobs and derived values above their everyday ceiling."""
    changes: tuple[Change, ...] = ()
    """Against what the machine holds now."""
    bench: str = ""
    boot_mark: str = ""
    """Identifies the boot of the planning machine when it was asked; empty: unknown."""
    time: str = ""
    """UTC wall clock of the asking, for people."""
    terms: Terms = USUAL
    """What the search was narrowed to when it was asked."""
    entry: int = 0
    """Number of the ledger's entry that asks for it; 0: not told."""
    taken_from: str = ""
    """The bench that was asked first and did not answer; empty: none."""


class Run(NamedTuple):
    """One workload at one setting, as recorded and amended.

    A tuple: replay builds thousands at once, and a frozen dataclass takes four times as long.
    """

    number: int
    outcome: Outcome
    settings: Setting
    """A value for every knob, as set."""
    ran: Setting
    """What really ran: `settings` with the differences that were noticed; only this counts."""
    workload: str
    run_minutes: float
    minutes: float
    """What the whole attempt cost, dialling in and recovery included."""
    usual_minutes: float
    """What it would have cost by the definition's figures."""
    dialled: bool = True
    """Whether anything had to be dialled in for it."""
    failed_after_s: float | None = None
    errors: int | None = None
    score: float | None = None
    subscores: Mapping[str, float] = _NONE
    readings: Mapping[str, float] = _NONE
    capped: Capped | None = None
    symptom: str = ""
    suspect: str = ""
    """A knob or group that the person suspects."""
    note: str = ""
    boot: int = 1
    """Runs with the same number ran on one boot: a cluster."""
    cold: bool = False
    """Whether that boot was a cold one."""
    boot_told: bool = False
    """Whether that boot was told of; one that was not may have been of either kind."""
    definition: int = 0
    """Index of the definition that it was made under."""
    asked: Event | None = None
    """The entry that asked for it; None: the person's own run."""
    bench: str = ""
    time: str = ""
    amended: int = 0
    """How many times it was amended."""
    epoch: int = 0
    """Counts the changes (firmware, remount) told before it; evidence of older epochs is wider."""
    origin: str = ""
    """What a run that was recorded elsewhere and taken in is known by; empty: recorded here."""

    @property
    def best_score(self) -> float | None:
        """The score if it may be claimed: a pass that nothing capped."""
        claimable = self.outcome is Outcome.PASS and self.capped is None
        return self.score if claimable else None
