"""The study: the only object that changes, and every change is an entry of its ledger."""

import os
from collections.abc import Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Any

from planner.bench import bench_name, boot_mark
from planner.domain.event import Kind
from planner.domain.knob import Value
from planner.domain.ledger import Head
from planner.domain.run import Proposal, Run
from planner.entries.changes import changed_entry, closed_entry
from planner.entries.definitions import defined_entry
from planner.entries.risk import acceptance_entry
from planner.entries.runs import amend_entry, run_entry
from planner.entries.withdrawn import withdrawn_entry
from planner.errors import LedgerConflict
from planner.gate import gate_of
from planner.history import History
from planner.journal import TRIES, Journal
from planner.store import MEMORY, Place, definition_text, new_place, open_place

if TYPE_CHECKING:
    from planner.models.findings import Edge, Recommendation
    from planner.models.frontier.findings import Frontier
    from planner.models.scores.gap import Beat, GapTable
    from planner.peak.blame import Blame
    from planner.searching import Searching


class Study:
    """One search: asks for settings, takes runs back, says what is known and when to stop."""

    def __init__(self, place: Place) -> None:
        """Use `create` or `open`."""
        self._place = place
        self._journal = Journal(place.ledger, bench_name())

    @classmethod
    def create(
        cls,
        definition: Mapping[str, Any] | str | os.PathLike[str],
        store: str | os.PathLike[str] = MEMORY,
    ) -> "Study":
        """A new study from a mapping with study.toml's tables, or from the path of such a file.

        `store`: "memory", or the folder in which to keep it.

        Raises:
            DefinitionError: a table, key or value that cannot be.
            StudyMissing: the folder holds a study already.
        """
        text = definition_text(definition)
        first = defined_entry(None, text)
        study = cls(new_place(store, text))
        study._journal.append(Kind.DEFINED, first)
        return study

    @classmethod
    def open(cls, place: str | os.PathLike[str]) -> "Study":
        """The study that stands in a folder.

        Raises:
            StudyMissing: there is none.
            LedgerDamaged: its ledger does not verify.
        """
        study = cls(open_place(place))
        if study._journal.is_empty():
            study.adopt()
        return study

    @property
    def bench(self) -> str:
        """The name under which this object writes; a pending proposal belongs to one bench."""
        return self._journal.bench

    @property
    def history(self) -> History:
        """All that the ledger tells, other writers' entries included."""
        return self._journal.history

    @property
    def head(self) -> Head:
        """The last entry of the ledger; given away, it later shows a lost tail or a rewrite."""
        return self._journal.head

    @property
    def warning(self) -> str | None:
        """What a person should be told of the ledger, as a torn last line; None: nothing."""
        return self._place.warning

    @property
    def pending(self) -> Proposal | None:
        """This bench's proposal that is not yet answered, or None."""
        pending = self.history.pending.get(self.bench)
        return None if pending is None else self.history.against_machine(pending)

    def next(self, everyday_only: bool = False) -> Proposal | None:
        """The setting to run next, on disk before it is returned; None once the study is closed.

        Asked again it gives the same until that is answered, or withdrawn because an edited
        definition or a lowered ceiling forbids it. `everyday_only` ignores accepted risks.

        Raises:
            DefinitionError: the edited study.toml cannot be taken.
            ForbiddenSetting: the strategy asked for what the gate forbids.
        """
        self.adopt()
        for _ in range(TRIES):
            history = self.history
            if history.closed:
                return None
            pending = history.pending.get(self.bench)
            if pending is not None:
                why = gate_of(history, everyday_only).objections(pending.settings)
                if not why:
                    return history.against_machine(pending)
                self._journal.attempt(
                    Kind.WITHDRAWN, {"run": pending.number, "why": "; ".join(why)}
                )
                continue
            mark = boot_mark() if self._place.on_disk else ""
            body, reason = self._searching.next_entry(history, mark, everyday_only)
            if body is None:
                if reason not in (history.verdict, history.closed):
                    self._journal.attempt(Kind.CLOSED, {"by": "rule", "reason": reason})
                return None
            self._journal.attempt(Kind.PROPOSED, body)
        raise LedgerConflict("other writers kept coming first; ask again")

    def record(
        self,
        outcome: str,
        *,
        number: int | None = None,
        settings: Mapping[str, Value] | None = None,
        **facts: Any,
    ) -> Run:
        """Take back what happened; on disk before it returns.

        Without `settings` it answers the pending proposal. With them it is the person's own
        run, of knobs as named and else as the machine holds them, unless that is the pending
        setting. `facts`: actual, workload, run_minutes, minutes, failed_after_s, errors, score,
        subscores, readings, capped, symptom, suspect, note, boot ("cold" or "warm").

        Raises:
            RecordError: nothing is pending, or a fact that cannot be.
        """
        given = {"settings": settings, **facts}
        body = self._journal.change(
            Kind.RUN, lambda history: run_entry(history, self.bench, outcome, number, given)
        )
        return self.history.by_number[body["run"]]

    def amend(self, run: int, **facts: Any) -> Run:
        """Mend what was recorded; the first entry stays in the ledger.

        `facts` as for `record`, and outcome; outcome="void" strikes the run, None takes a fact
        back.

        Raises:
            RecordError: no such run, or a fact that cannot be.
        """
        self._journal.change(Kind.AMENDED, lambda history: amend_entry(history, run, facts))
        return self.history.by_number[run]

    def withdraw(self, number: int, why: str) -> None:
        """Take a pending proposal back that nobody ran; `next` then asks anew.

        Raises:
            RecordError: it is not pending, or no reason in a few printable words.
        """
        self._journal.change(Kind.WITHDRAWN, lambda history: withdrawn_entry(history, number, why))

    def accept_risk(self, knob: str, up_to: float | str) -> None:
        """Let proposals rise above the everyday ceiling of a knob or derived value.

        Raises:
            RecordError: there is no own-risk ceiling, or `up_to` lies outside that region.
        """
        self._journal.change(Kind.ACCEPTED, lambda history: acceptance_entry(history, knob, up_to))

    def changed(self, what: str, groups: Sequence[str] = ()) -> None:
        """Tell of new firmware, a remount, another sample: older evidence of `groups` fades.

        Raises:
            RecordError: a group that the study does not know.
        """
        self._journal.change(Kind.CHANGED, lambda history: changed_entry(history, what, groups))

    def boot(self, cold: bool) -> None:
        """Tell that the machine was started anew, cold or warm."""
        self._journal.append(Kind.BOOT, {"cold": cold})

    def close(self, reason: str = "closed by hand") -> None:
        """End the search; runs can still be recorded.

        Raises:
            RecordError: no reason in a few printable words.
        """
        self._journal.append(Kind.CLOSED, closed_entry(reason))

    def reopen(self) -> None:
        """Go on, overruling the closing rules until the definition or the machine changes."""
        self._journal.append(Kind.REOPENED, {})

    def closing(self) -> str | None:
        """The reason to close, in a sentence with its figures; None while runs are worth making."""
        return self._searching.closing(self.history)

    def recommendation(self, everyday_only: bool = False) -> "Recommendation":
        """The setting to keep as things stand; `everyday_only` ignores accepted risks."""
        return self._searching.recommendation(self.history, everyday_only)

    def edges(self) -> "dict[str, Edge]":
        """The edge of every knob with a range, the others at the study's values."""
        return self._searching.edges(self.history)

    def frontier(self) -> "Frontier":
        """The edge of the study's knob along its second one (`along` in [study]).

        Raises:
            DefinitionError: there is no second knob, or one of the two has no range.
        """
        return self._searching.traced(self.history)

    def blame(self, run: int) -> "Blame":
        """Which knob a failed run is blamed on, and what single run would best tell them apart.

        Raises:
            RecordError: no such run, or it did not fail.
        """
        return self._searching.blame(self.history, run)

    def gap(self, workload: str | None = None, beat: "Beat" = ()) -> "GapTable | None":
        """How far the best score is from study.toml's to beat and `beat`; None: nothing scored."""
        return self._searching.gap(self.history, workload, beat)

    def adopt(self) -> bool:
        """Take over an edited study.toml; False where nothing was edited.

        Raises:
            DefinitionError: it cannot be taken; the last good definition stays.
        """
        if self._place.read_definition is None:
            return False
        text = self._place.read_definition()
        known = None if self._journal.is_empty() else self.history
        if known is not None and known.definition.text == text:
            return False
        self._journal.append(Kind.DEFINED, defined_entry(known, text))
        return True

    @cached_property
    def _searching(self) -> "Searching":
        from planner.searching import Searching  # brings numpy, which `record` can do without

        return Searching()
