"""The study: the only object that changes, and every change is an entry of its ledger."""

import os
from collections.abc import Collection, Mapping, Sequence
from typing import Any

from planner.bench import boot_mark
from planner.domain.event import Kind
from planner.domain.knob import Value
from planner.domain.run import Proposal, Run
from planner.domain.terms import Terms
from planner.entries.changes import changed_entry, closed_entry
from planner.entries.definitions import defined_entry
from planner.entries.left import left_entry
from planner.entries.risk import acceptance_entry
from planner.entries.runs import amend_entry, run_entry
from planner.entries.withdrawn import withdrawn_entry
from planner.errors import LedgerConflict, StudyMissing
from planner.gate import gate_of
from planner.journal import tries
from planner.read_study import ReadStudy
from planner.store import MEMORY, definition_text, new_place, open_place


class Study(ReadStudy):
    """One search: asks for settings, takes runs back, says what is known and when to stop."""

    @classmethod
    def create(
        cls,
        definition: Mapping[str, Any] | str | os.PathLike[str],
        store: str | os.PathLike[str] = MEMORY,
    ) -> "Study":
        """A new study from a mapping with study.toml's tables, or from the path of such a file.

        `store`: "memory", a folder, or a server, "postgresql://user@host/database#study".

        Raises:
            DefinitionError: a table, key or value that cannot be.
            StudyMissing: a study stands there already.
        """
        first = defined_entry(None, text := definition_text(definition))
        study = cls(new_place(store, text))
        if not study._journal.attempt(Kind.DEFINED, first):
            raise StudyMissing("somebody else made a study of that name just now")
        return study

    @classmethod
    def open(cls, place: str | os.PathLike[str], mirror: os.PathLike[str] | None = None) -> "Study":
        """The study in a folder, or on a server; `mirror`: file for a second copy of its ledger.

        Raises:
            StudyMissing: there is none.
            LedgerDamaged: its ledger does not verify.
        """
        study = cls(open_place(place, mirror))
        if study._journal.is_empty():
            study.adopt()
        return study

    def next(
        self,
        everyday_only: bool = False,
        *,
        only: Collection[str] = (),
        start: int | None = None,
        max_changes: int | None = None,
    ) -> Proposal | None:
        """The setting to run next, on disk before it is returned; None once the study is closed.

        Asked again it gives the same until that is answered, or withdrawn because an edited
        definition or a lowered ceiling forbids it. `everyday_only` ignores accepted risks. In a
        search over many knobs `only` names the groups and knobs to turn, `start` the run whose
        values to start from, `max_changes` how many values may be dialled in; a pending one asked
        on other terms is then withdrawn.

        Raises:
            DefinitionError: the edited study.toml cannot be taken.
            RecordError: terms that cannot be kept to.
            ForbiddenSetting: the strategy asked for what the gate forbids.
        """
        self.adopt()
        terms = Terms(everyday_only, frozenset(only), start, max_changes)
        for _ in tries():
            history = self.history
            if history.closed:
                return None
            terms.check(history.definition, history.by_number)
            pending = history.pending.get(self.bench)
            if pending is not None:
                why = gate_of(history, everyday_only).objections(pending.settings)
                if terms.of_the_search and terms.body != pending.terms.body:
                    why.append("asked anew on other terms")
                if not why:
                    return history.against_machine(pending)
                gone = {"run": pending.number, "why": "; ".join(why)}
                self._journal.attempt(Kind.WITHDRAWN, gone)
                continue
            mark = boot_mark() if self._place.lasting else ""
            left = left_entry(history, terms, mark, self._place.age_s)
            body, reason = left or self._searching.next_entry(history, mark, terms)
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

    def restored(self) -> None:
        """Tell that what was changed live was put back to stock."""
        self._journal.append(Kind.NOTE, {"text": "put back to stock", "restored": True})

    def close(self, reason: str = "closed by hand") -> None:
        """End the search; runs can still be recorded.

        Raises:
            RecordError: no reason in a few printable words.
        """
        self._journal.append(Kind.CLOSED, closed_entry(reason))

    def reopen(self) -> None:
        """Go on, overruling the closing rules until the definition or the machine changes."""
        self._journal.append(Kind.REOPENED, {})

    def adopt(self) -> bool:
        """Take over an edited study.toml; False where nothing was edited, or another did so first.

        Raises:
            DefinitionError: it cannot be taken; the last good definition stays.
        """
        return self._journal.define(self._place.edited)
