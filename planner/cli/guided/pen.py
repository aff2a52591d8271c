"""What a session writes: answers, answers told anew, notes; each is confirmed or refused."""

from typing import TYPE_CHECKING

from planner.cli.guided.answer import Answer
from planner.cli.guided.desk import Desk
from planner.cli.guided.mending import Answered, Trail, amendment, says_the_same
from planner.domain.outcome import Outcome
from planner.domain.run import Proposal, Run
from planner.errors import InputError, LedgerBusy, LedgerConflict, PlannerError
from planner.report.text import guided

if TYPE_CHECKING:
    from planner.study import Study

_REFUSALS = (InputError, LedgerBusy, LedgerConflict)
"""What leaves the ledger as it was, and the session going."""


class Pen:
    """Writes to one study and remembers what it wrote."""

    def __init__(self, study: "Study", desk: Desk) -> None:
        """Nothing is written yet."""
        self._study = study
        self._desk = desk
        self._trail = Trail()
        self._withdrawn: set[int] = set()

    @property
    def ours(self) -> frozenset[int]:
        """The runs that were answered or withdrawn here."""
        return frozenset(self._withdrawn.union(a.number for a in self._trail.answers))

    @property
    def mended(self) -> int | None:
        """The run that is being answered anew."""
        return self._trail.mended.number if self._trail.mended else None

    def complain(self, text: str) -> None:
        """Say what could not be taken."""
        self._desk.say(guided.refused_text(text, self._desk.width()))

    def record(self, answer: Answer, pending: Proposal | None) -> bool:
        """Record an answer to what is pending, or a run of the person's own; whether it was."""
        number = pending.number if pending and answer.settings is None else None
        try:
            run = self._recorded(answer, number)
        except _REFUSALS as error:
            if number in self._study.history.by_number:
                self._desk.tell("That came too late and was not recorded.")
            else:
                self.complain(str(error))
            return False
        self._confirm(run)
        return True

    def mend(self, answer: Answer) -> bool:
        """Answer the run that is being mended anew; whether that was taken."""
        mended = self._trail.mended
        assert mended is not None, "only a run that is being mended can be answered anew"
        before = self._study.history.by_number[mended.number]
        try:
            if answer.settings is None:
                run = self._study.amend(mended.number, **self._amendment(before, answer))
            else:
                run = self._recorded(answer, None)
                struck = Answer(Outcome.VOID, {})
                self._study.amend(mended.number, **self._amendment(before, struck))
        except _REFUSALS as error:
            self.complain(str(error))
            return False
        self._confirm(run)
        self._withdraw_what_built_on(mended, before)
        self._trail.leave()
        return True

    def step_back(self) -> None:
        """Take the answer before in hand, to be told anew."""
        if not self._trail.answers:
            self.complain("no answer of this session to take back; an earlier one: planner amend")
            return
        history, moved = self._study.history, self._trail.step_back()
        run = history.by_number[self.mended or 0]
        if not moved:
            self._desk.tell(f"Run {run.number} is the first answer of this session.")
        self._desk.say(guided.mending_text(run, history.definition, self._desk.width()))

    def keep(self) -> None:
        """Leave the run that is being mended as it is on record."""
        self._desk.tell(f"Run {self.mended} stays as it is on record.")
        self._trail.leave()

    def note(self, words: str) -> None:
        """Add a note to the run that is being mended, else to the last answer."""
        if (noted := self._trail.noted) is None:
            self.complain("a note belongs to an answer: add it there, as p note warm room")
            return
        earlier = self._study.history.by_number[noted.number].note
        try:
            run = self._study.amend(noted.number, note="; ".join(filter(None, (earlier, words))))
        except _REFUSALS as error:
            self.complain(str(error))
        else:
            self._confirm(run)

    def _recorded(self, answer: Answer, number: int | None) -> Run:
        run = self._study.record(
            answer.outcome, number=number, settings=answer.settings, **answer.facts
        )
        pending = self._study.pending
        self._trail.add(Answered(run.number, pending.number if pending else None))
        return run

    def _amendment(self, run: Run, answer: Answer) -> dict[str, object]:
        return amendment(self._study.history, run, answer)

    def _confirm(self, run: Run) -> None:
        self._desk.say(guided.taken_text(run, self._study.history, self._desk.width()))

    def _withdraw_what_built_on(self, mended: Answered, before: Run) -> None:
        """The run asked for on a mistaken answer is no longer wanted."""
        pending, now = self._study.pending, self._study.history.by_number[mended.number]
        if pending is None or pending.number == mended.pending or says_the_same(before, now):
            return
        try:
            self._study.withdraw(
                pending.number, f"it was asked for before run {now.number} was mended"
            )
        except PlannerError as error:
            self._desk.tell(f"Run {pending.number} still stands: {error}")
        else:
            self._withdrawn.add(pending.number)
            self._desk.tell(
                f"Run {pending.number} is withdrawn: it was asked for on the answer just mended."
            )
