"""The study behind the page: one writer, one lock, and answers that can come twice or too late."""

from collections.abc import Callable, Mapping
from threading import Lock
from typing import TYPE_CHECKING

from planner.domain.run import Proposal
from planner.errors import DefinitionError, LedgerBusy, LedgerConflict, RecordError
from planner.page.form import answer_in
from planner.page.view import View, failed_last, view_of
from planner.report.text.standing import Standing, short_head

if TYPE_CHECKING:
    from planner.peak.blame import Blame
    from planner.study import Study

HASTY_S = 2.0
"""Nobody dials a setting in and runs it within this: the tap was meant for the run before."""


class Desk:
    """What the page asks of a study; any thread may."""

    def __init__(
        self,
        study: "Study",
        summary: Callable[["Study"], Standing],
        suffix: str,
        now: Callable[[], float],
    ) -> None:
        """`now`: a clock in s that never runs backward.

        `suffix`: what a command needs after it to mean the study.
        """
        self._study, self._summary, self._suffix, self._now = study, summary, suffix, now
        self._lock = Lock()
        self._view: View | None = None
        self._taken: dict[int, Mapping[str, str]] = {}
        """By run, the form that was taken for it."""
        pending = study.pending
        self._shown = {} if pending is None else {pending.number: now() - HASTY_S}
        """By run, when it was first shown; what was pending before may well have been run."""

    def mark(self) -> str:
        """Changes whenever anyone writes to the ledger.

        Raises:
            PlannerError: the ledger cannot be read.
        """
        with self._lock:
            return short_head(self._study.head)

    def view(self) -> tuple[View, str]:
        """The page, asking for the next run if none is pending; and why none can be asked for.

        Raises:
            PlannerError: what no edit of study.toml mends, as a damaged ledger.
        """
        with self._lock:
            proposal, fault = self._asked()
            mark = short_head(self._study.head)
            if self._view is None or self._view.mark != mark:
                self._view = self._drawn(proposal, mark)
            return self._view, fault

    def record(self, fields: Mapping[str, str]) -> None:
        """Record what a form says; the same form once more changes nothing.

        Raises:
            RecordError: it came too late or too soon, or says what cannot be.
            LedgerError: it could not be written.
        """
        answer = answer_in(fields)
        with self._lock:
            if self._taken.get(answer.number) == fields:
                return
            self._refuse_haste(answer.number)
            self._study.record(answer.outcome, number=answer.number, **answer.facts)
            self._taken[answer.number] = dict(fields)

    def _refuse_haste(self, number: int) -> None:
        since = self._now() - self._shown.get(number, 0.0)
        if number in self._shown and since < HASTY_S:
            raise RecordError(
                f"run {number} was shown only {since:.1f} s before: if it was run, tap once more"
            )

    def _asked(self) -> tuple[Proposal | None, str]:
        try:
            proposal, fault = self._study.next() or self._study.pending, ""
        except (DefinitionError, LedgerBusy, LedgerConflict) as error:
            proposal, fault = self._study.pending, str(error)
        if proposal is not None:
            self._shown.setdefault(proposal.number, self._now())
        return proposal, fault

    def _drawn(self, proposal: Proposal | None, mark: str) -> View:
        return view_of(self._summary(self._study), proposal, mark, self._suffix, self._blame())

    def _blame(self) -> "Blame | None":
        failed = failed_last(self._study.history)
        if failed is None:
            return None
        try:
            return self._study.blame(failed.number)
        except RecordError:  # it failed at what the search makes nothing of
            return None
