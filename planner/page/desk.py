"""The study behind the page: one lock, and answers that can come twice, too late or too soon."""

from collections.abc import Callable, Mapping
from threading import Lock
from typing import TYPE_CHECKING

from planner.domain.run import Proposal, Run
from planner.errors import PlannerError, RecordError
from planner.history import History
from planner.page.form import Answer, answer_in, mended_facts, says
from planner.page.thinker import Thinker
from planner.page.view import View, view_of
from planner.report.text.standing import short_head

if TYPE_CHECKING:
    from planner.study import Study

HASTY_S = 2.0
"""Nobody dials a setting in and runs it within this: the tap was meant for the run before."""
PATIENCE_S = 0.3
"""For so long the page waits for what is being worked out; then it is shown without."""
UNREADABLE = "unreadable"
"""The mark of a ledger that cannot be read."""


class Desk:
    """What the page asks of a study; any thread may."""

    def __init__(
        self,
        study: "Study",
        thinker: Thinker,
        suffix: str,
        now: Callable[[], float],
        at_work: Callable[[], int | None],
        patience: float | None = PATIENCE_S,
    ) -> None:
        """`now`: a clock in s that never runs backward. `at_work`: the run that a drive has begun.

        `suffix`: what a command needs after it to mean the study. `patience`: in s; None: endless.
        """
        self._study, self._thinker, self._suffix, self._now = study, thinker, suffix, now
        self._at_work, self._patience = at_work, patience
        self._lock = Lock()
        self._view: View | None = None
        self._mended = (0, 0)
        """The run that was mended last, and how many were on record then."""
        pending = study.pending
        self._shown = {} if pending is None else {pending.number: now() - HASTY_S}
        """By run, when it was first shown; what was pending before may well have been run."""

    def mark(self) -> str:
        """Changes whenever anyone writes to the ledger, more was worked out, or a drive begins."""
        try:
            version, _ = self._thinker.latest
            return f"{self._head()}.{version}.{self._at_work() or 0}"
        except PlannerError:
            return UNREADABLE

    def rest(self, seconds: float) -> None:
        """Wait for news at most so many s; what another program writes does not end it."""
        self._thinker.rest(seconds)

    def history(self) -> tuple[str, History]:
        """All that is told, and the ledger's last entry.

        Raises:
            PlannerError: the ledger cannot be read.
        """
        with self._lock:
            return short_head(self._study.head), self._study.history

    def view(self) -> View:
        """The page, asking for the next run if none is pending.

        Raises:
            PlannerError: what no edit of study.toml mends, as a damaged ledger.
        """
        waits = self._thinker.warm or self._patience is None
        self._thinker.ask(self._patience if waits else 0)
        with self._lock:
            pending = self._study.pending
            if pending is not None:
                self._shown.setdefault(pending.number, self._now())
            head = short_head(self._study.head)
            version, thought = self._thinker.latest
            driven = self._at_work() or 0
            mark = f"{head}.{version}.{driven}"
            if self._view is None or self._view.mark != mark:
                known = thought if thought.head == head else None
                self._view = view_of(
                    self._study.history, known, pending, mark, self._suffix, self._told(), driven
                )
            return self._view

    def record(self, fields: Mapping[str, str]) -> None:
        """Record what a form says of the run that was shown; once more, it changes nothing.

        Raises:
            RecordError: it came too late or too soon, or says what cannot be.
            LedgerError: it could not be written.
        """
        answer = answer_in(fields)
        with self._lock:
            history = self._study.history
            run = history.by_number.get(answer.number)
            if run is not None and says(history, run, answer):
                return
            self._refuse_another(answer, run, history)
            self._refuse_haste(answer.number)
            self._study.record(answer.outcome, number=answer.number, **answer.facts)
        self._thinker.tell()

    def record_own(self, fields: Mapping[str, str]) -> None:
        """Record a run that nobody asked for; the same form once more changes nothing.

        Raises:
            RecordError: it says what cannot be.
            LedgerError: it could not be written.
        """
        answer = answer_in(fields)
        with self._lock:
            history = self._study.history
            since = [run for run in history.runs if run.number >= answer.number]
            if any(run.asked is None and says(history, run, answer) for run in since):
                return
            self._study.record(answer.outcome, **{"settings": {}, **answer.facts})
        self._thinker.tell()

    def mend(self, fields: Mapping[str, str]) -> None:
        """Amend a run to what a form says; asked to, withdraw the run asked for on the old answer.

        Raises:
            RecordError: it was mended elsewhere meanwhile, or the form says what cannot be.
            LedgerError: it could not be written.
        """
        answer = answer_in(fields)
        with self._lock:
            history = self._study.history
            run = history.by_number.get(answer.number)
            facts = {} if run is None else mended_facts(history, run, answer)
            if run is not None and not facts:
                return
            if run is not None and fields.get("amended", "") != str(run.amended):
                raise RecordError(f"run {run.number} was mended elsewhere meanwhile")
            self._study.amend(answer.number, **facts)
            self._mended = answer.number, len(history.runs)
            pending = self._study.pending
            if pending is not None and fields.get("anew") == str(pending.number):
                why = f"it was asked for before run {answer.number} was mended"
                self._study.withdraw(pending.number, why)
        self._thinker.tell()

    def pending(self) -> Proposal | None:
        """The run that is asked for."""
        with self._lock:
            return self._study.pending

    def _told(self) -> int:
        """The run that was mended, until another one is recorded; 0: none."""
        number, runs = self._mended
        return number if runs == len(self._study.history.runs) else 0

    def _head(self) -> str:
        with self._lock:
            return short_head(self._study.head)

    def _refuse_another(self, answer: Answer, run: Run | None, history: History) -> None:
        """An answer that was kept while the page was away may belong to another study's run."""
        pending = [p for p in history.pending.values() if p.number == answer.number]
        when = {p.time for p in pending} | ({run.asked.time} if run and run.asked else set())
        if answer.asked and when and answer.asked not in when:
            raise RecordError(
                f"run {answer.number} was asked for at {answer.asked}, and is another run here"
            )

    def _refuse_haste(self, number: int) -> None:
        since = self._now() - self._shown.get(number, 0.0)
        if number in self._shown and since < HASTY_S:
            raise RecordError(
                f"run {number} was shown only {since:.1f} s before: if it was run, tap once more"
            )
