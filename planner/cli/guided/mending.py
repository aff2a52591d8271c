"""Answering a run anew: the answers of a session, and the amendment that one comes to."""

from dataclasses import dataclass, field
from typing import Any

from planner.cli.arguments import clearable
from planner.cli.guided.answer import Answer
from planner.domain.run import Run
from planner.history import History

_KEPT = ("settings", "workload", "run_minutes")
"""Facts that an answer told anew leaves, or that no run is without."""


@dataclass(frozen=True, slots=True)
class Answered:
    """A run that was recorded in this session."""

    number: int
    pending: int | None
    """The proposal that was pending before it and stayed so; later ones build on this answer."""


@dataclass
class Trail:
    """The answers of a session, and how far back the person went."""

    answers: list[Answered] = field(default_factory=list)
    _mended: int | None = None
    """Place of the answer that is being mended."""

    def add(self, answered: Answered) -> None:
        """One more answer."""
        self.answers.append(answered)

    def step_back(self) -> bool:
        """Go to the answer before; False where there is none."""
        place = len(self.answers) if self._mended is None else self._mended
        self._mended = max(place - 1, 0)
        return place > 0

    def leave(self) -> None:
        """Nothing is being mended any more."""
        self._mended = None

    @property
    def mended(self) -> Answered | None:
        """The answer that is being mended."""
        return None if self._mended is None else self.answers[self._mended]

    @property
    def noted(self) -> Answered | None:
        """The answer that a note belongs to: the one being mended, else the last."""
        return self.mended or (self.answers[-1] if self.answers else None)


def amendment(history: History, run: Run, answer: Answer) -> dict[str, Any]:
    """What to amend in a run so that it is as if recorded with this answer at first."""
    gone = dict.fromkeys(fact for fact in clearable().values() if fact not in _KEPT)
    facts = gone | dict(answer.facts)
    facts.setdefault("run_minutes", _nominal_minutes(history, run))
    return facts | {"outcome": answer.outcome}


def says_the_same(before: Run, after: Run) -> bool:
    """Whether what was asked for since then would be asked for again: only remarks differ."""
    return _without_remarks(before) == _without_remarks(after)


def _without_remarks(run: Run) -> Run:
    return run._replace(note="", symptom="", amended=0)


def _nominal_minutes(history: History, run: Run) -> float:
    """Minutes that a run of its workload took unless told otherwise, when it was recorded."""
    if run.asked is not None and run.asked.body["workload"] == run.workload:
        return float(run.asked.body["run_minutes"])
    return history.definitions[run.definition].workloads[run.workload].minutes
