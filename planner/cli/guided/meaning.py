"""What the words of an answer come to together: which number is the score, which time is what."""

from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from planner.cli.guided.answer import Answer
from planner.domain.outcome import Outcome
from planner.domain.tables import Workload
from planner.errors import InputError


@dataclass
class Told:
    """What was read so far."""

    outcome: Outcome | None = None
    numbers: list[str] = field(default_factory=list)
    """Numbers without a name, as typed."""
    durations: list[Decimal] = field(default_factory=list)
    """Times without a name, in s."""
    seen: list[str] = field(default_factory=list)
    facts: dict[str, Any] = field(default_factory=dict)

    def set_outcome(self, outcome: Outcome) -> None:
        """Raises InputError where there is one already."""
        if self.outcome is not None:
            raise InputError(f"{self.outcome} and {outcome}: a run ends in one way, which?")
        self.outcome = outcome

    def put(self, fact: str, value: Any) -> None:
        """Raises InputError where the fact was told already."""
        if fact in self.facts:
            raise InputError(f"{fact} is told twice, expected once")
        self.facts[fact] = value

    def put_in(self, fact: str, name: str, value: Any) -> None:
        """The same for a fact of several named values."""
        table = self.facts.setdefault(fact, {})
        if name in table:
            raise InputError(f"{name} is told twice, expected once")
        table[name] = value


def fitted(told: Told, workload: Workload, own: bool) -> Answer:
    """The answer that was told, nameless numbers and times given their meaning.

    Raises:
        InputError: they have none beside this outcome, or one that it needs is missing.
    """
    outcome = told.outcome
    assert outcome is not None, "the reader refuses an answer without outcome"
    if told.seen:
        told.put("symptom", " ".join(told.seen))
    _place_times(told, outcome)
    _place_numbers(told, outcome, workload)
    if "symptom" in told.facts and outcome.held:
        raise InputError(f"{told.facts['symptom']!r} beside {outcome}: which of the two?")
    if outcome is Outcome.ERRORS and not told.facts.get("errors"):
        raise InputError("errors: expected how many were counted, as e 3")
    if outcome is Outcome.STOPPED and "run_minutes" not in told.facts:
        raise InputError("stopped: expected how long it had held, as s 4min")
    settings = told.facts.pop("settings", {})
    return Answer(outcome, told.facts, settings if own else None)


def _place_times(told: Told, outcome: Outcome) -> None:
    for seconds in told.durations:
        if outcome.failed:
            told.put("failed_after_s", float(seconds))
        elif outcome is Outcome.STOPPED:
            told.put("run_minutes", float(seconds / 60))
        else:
            raise InputError(
                f"{float(seconds):g}s beside {outcome}: a time says when a run failed, or how long"
                " one held that you stopped (s 4min); otherwise say ran 4min, or took 9min all in"
            )


def _place_numbers(told: Told, outcome: Outcome, workload: Workload) -> None:
    for number in told.numbers:
        if outcome is Outcome.PASS and workload.scored:
            told.put("score", float(number))
        elif outcome is Outcome.ERRORS:
            told.put("errors", float(number))
        elif outcome is Outcome.PASS:
            raise InputError(
                f"{number} beside pass: {workload.name} has no score in study.toml (scored = true);"
                f" if it is one all the same: score={number}"
            )
        else:
            raise InputError(
                f"{number} beside {outcome}: of what? A time needs its unit: {number}s, {number}min"
            )
