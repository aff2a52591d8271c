"""The search loop: ask, run, record, until nothing is left or something says stop."""

from collections.abc import Callable, Generator
from dataclasses import dataclass, field
from typing import Any

from planner.bench import boot_mark, same_boot
from planner.domain.outcome import Outcome
from planner.domain.run import Proposal, Run
from planner.driving.attempt import Bench, Result
from planner.driving.fitness import check_changes
from planner.errors import RecordError
from planner.study import Study

NOT_SET_MOST = 3
"""So many times in a row the values may fail to be set."""
RESETS_MOST = 2
"""So many times one setting may take the machine down."""
RESTARTED = "the machine was restarted while this run was pending"
"""Begins the note of a run that ended with the machine."""


class Halt(Exception):
    """Nothing more may be run unattended; the message says why."""


def settle_restart(study: Study) -> Run | None:
    """Record a run from before a restart as a crash; None where there is none.

    Nothing is known but that the machine went down: `amend` mends it where that was no crash.
    """
    pending = study.pending
    if pending is None or same_boot(pending.boot_mark, boot_mark()):
        return None
    return study.record(Outcome.CRASH, number=pending.number, note=RESTARTED)


def check_resets(study: Study, run: Run) -> None:
    """Raises Halt where the run's setting took the machine down too often."""
    same = [
        r
        for r in study.history.evidence
        if r.note.startswith(RESTARTED) and r.ran == run.ran and r.outcome is Outcome.CRASH
    ]
    if len(same) >= RESETS_MOST:
        numbers = " and ".join(str(r.number) for r in same[-RESETS_MOST:])
        raise Halt(f"the same setting took the machine down in runs {numbers}")


@dataclass(slots=True)
class Loop:
    """Runs a study on a bench."""

    study: Study
    bench: Bench
    still_agreed: Callable[[], None]
    """Called before each run; raises where study.toml was edited into something else."""
    before: Callable[[Proposal], None] = lambda proposal: None
    most: int | None = None
    """Runs to make; None: until nothing is left."""
    exhausted: bool = field(default=False, init=False)
    """Whether nothing was left to propose."""
    _not_set: int = field(default=0, init=False)
    _turned: bool = field(default=False, init=False)
    """Whether the machine may hold something else than stock."""

    def runs(self) -> Generator[Run, None, None]:
        """Each run as it is on record; at the end the machine is back at stock.

        Raises:
            Halt: something that wants a person.
            InputError: a command cannot be started.
        """
        try:
            made = 0
            while self.most is None or made < self.most:
                if self.bench.wish.finish:
                    return
                proposal = self.study.next(everyday_only=True)
                if proposal is None:
                    self.exhausted = True
                    return
                self.still_agreed()
                yield self._one(proposal)
                made += 1
        finally:
            self._restore()

    def _one(self, proposal: Proposal) -> Run:
        definition = self.study.history.definition
        check_changes(definition, proposal)
        if proposal.start_when:
            raise Halt(f"run {proposal.number} is to begin {proposal.start_when}: that takes you")
        self.before(proposal)
        self._turned = True
        result = self.bench.run(proposal.settings, proposal.run_minutes)
        run = self._record(proposal, result)
        if result.blind:
            raise Halt(result.blind)
        self._not_set = self._not_set + 1 if result.not_set else 0
        if self._not_set >= NOT_SET_MOST:
            raise Halt(f"apply failed {NOT_SET_MOST} times in a row")
        if run.outcome is not Outcome.PASS:
            self._restore()
        return run

    def _record(self, proposal: Proposal, result: Result) -> Run:
        try:
            return self._recorded(proposal, result.outcome, result.facts)
        except RecordError as error:
            # What a command told is refused: the outcome stands without it.
            doubted = ("score", "subscores", "readings")
            kept = {name: value for name, value in result.facts.items() if name not in doubted}
            note = "".join(c if c.isprintable() else "?" for c in f"left out: {error}")
            return self._recorded(proposal, result.outcome, kept | {"note": note[:1000]})

    def _recorded(self, proposal: Proposal, outcome: Outcome, facts: dict[str, Any]) -> Run:
        return self.study.record(outcome, number=proposal.number, **facts)

    def _restore(self) -> None:
        if not self._turned:
            return
        self._turned = False
        if problem := self.bench.restore(self.bench.definition.stock):
            raise Halt(problem)
