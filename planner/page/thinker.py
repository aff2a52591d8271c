"""What takes long is worked out beside the page: the next run, how the study stands, the blame.

It has a study of its own, so that an answer can be recorded while it works.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from threading import Condition, Thread
from typing import TYPE_CHECKING

from planner.domain.run import Run
from planner.errors import DefinitionError, LedgerBusy, LedgerConflict, RecordError
from planner.history import History
from planner.report.text.standing import Standing, short_head

if TYPE_CHECKING:
    from planner.peak.blame import Blame
    from planner.study import Study

_MOST = 400
"""Runs up to which a study of one knob has its blame worked out: 0.8 s; it grows with them."""


@dataclass(frozen=True, slots=True)
class Thought:
    """What was worked out of a ledger that ends with one entry."""

    head: str
    fault: str = ""
    """Why no run can be asked for; empty: nothing speaks against it."""
    standing: Standing | None = None
    """None: not worked out yet."""
    blame: "Blame | None" = None
    """Of the run that failed last."""
    whole: bool = False
    """Whether nothing more is to come."""


class Thinker:
    """Thinks when asked, in a thread that ends once there is nothing left to think of."""

    def __init__(self, study: "Study", summary: Callable[["Study"], Standing]) -> None:
        """`study`: for this alone."""
        self._study, self._summary = study, summary
        self._changed = Condition()
        self._thought = Thought("")
        self._version = 0
        self._busy = self._asked = False
        self._failed: Exception | None = None

    @property
    def latest(self) -> tuple[int, Thought]:
        """How often something else was thought, and what it was last.

        Raises:
            PlannerError: what no edit of study.toml mends, as a damaged ledger.
        """
        with self._changed:
            if self._failed is not None:
                raise self._failed
            return self._version, self._thought

    @property
    def warm(self) -> bool:
        """Whether anything was thought yet: the first time, libraries have to be loaded."""
        with self._changed:
            return self._version > 0

    def ask(self, patience: float | None) -> None:
        """Have the study looked at anew, and wait for that at most so many s; None: to its end."""
        with self._changed:
            self._asked = True
            if not self._busy:
                self._busy = True
                Thread(target=self._work, daemon=True).start()
            self._changed.wait_for(lambda: not self._busy, patience)

    def rest(self, seconds: float) -> None:
        """Wait until something new is thought or told here, at most so many s."""
        with self._changed:
            self._changed.wait(seconds)

    def tell(self) -> None:
        """Wake those who rest: something was recorded."""
        with self._changed:
            self._changed.notify_all()

    def _work(self) -> None:
        while self._goes_on():
            failed = None
            try:
                for thought in self._thoughts():
                    self._publish(thought)
            except Exception as error:  # told to whoever looks next; a thread has no one to tell
                failed = error
            with self._changed:
                self._failed = failed

    def _goes_on(self) -> bool:
        with self._changed:
            self._busy, self._asked = self._asked, False
            self._changed.notify_all()
            return self._busy

    def _publish(self, thought: Thought) -> None:
        with self._changed:
            self._failed = None
            if _told(thought) != _told(self._thought):
                self._thought, self._version = thought, self._version + 1
                self._changed.notify_all()

    def _thoughts(self) -> Iterator[Thought]:
        """First what is quickly worked out, then all."""
        fault = ""
        try:
            self._study.adopt()
            if self._is_known():  # to have the pending run checked anew takes long, too
                return
            self._study.next()
        except (DefinitionError, LedgerBusy, LedgerConflict) as error:
            fault = str(error)
        head = short_head(self._study.head)
        if self._is_known(fault):
            return
        standing = self._summary(self._study)
        failed = _failed_last(standing.history)
        yield Thought(head, fault, standing, whole=failed is None)
        if failed is not None:
            yield Thought(head, fault, standing, self._blame(failed), whole=True)

    def _is_known(self, fault: str = "") -> bool:
        """Whether all was worked out of the ledger as it is."""
        known, head = self._thought, short_head(self._study.head)
        return known.whole and (known.head, known.fault) == (head, fault)

    def _blame(self, failed: Run) -> "Blame | None":
        try:
            return self._study.blame(failed.number)
        except RecordError:  # it failed at what the search makes nothing of
            return None


def _told(thought: Thought) -> tuple[str, str, bool]:
    """What another thought differs in, if in anything."""
    return thought.head, thought.fault, thought.whole


def _failed_last(history: History) -> Run | None:
    """The run to ask the blame of; None where none failed, or it would take too long."""
    if history.definition.goal.aim.one_knob and len(history.evidence) > _MOST:
        return None
    return next((run for run in reversed(history.evidence) if run.outcome.failed), None)
