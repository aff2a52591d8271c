"""Writes the entries of one study and folds them, its own and those of other writers."""

import os
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from planner.bench import utc_now
from planner.domain.event import Event, Kind
from planner.domain.ledger import Head, Ledger
from planner.entries.definitions import defined_entry
from planner.errors import LedgerConflict
from planner.history import History
from planner.replay import Replay

_TRIES = 50
"""How often an entry is made anew when other writers come first."""
_PAUSE_S, _LONGEST_S = 0.001, 0.02
"""The pause before that, at most: so much more each time, up to so much."""


def tries() -> Iterator[None]:
    """Once for each time that an entry is made, with a pause of chance before it is made anew.

    Two writers without pause can fall into step, and one of them then comes second each time.
    """
    for done in range(_TRIES):
        if done:
            time.sleep(os.urandom(1)[0] / 255 * min(done * _PAUSE_S, _LONGEST_S))
        yield


class Journal:
    """A ledger together with the history that it tells."""

    def __init__(self, ledger: Ledger, bench: str) -> None:
        """`bench`: the name under which entries are written."""
        self.bench = bench
        self._ledger = ledger
        self._replay = Replay()
        self._history: History | None = None
        self._held = False
        self._fresh = False

    def hold(self) -> None:
        """From here on read the ledger only where this journal has written, or others came first.

        For what is over in a moment: a ledger on a server costs a round trip each time.
        """
        self._held = True

    @property
    def history(self) -> History:
        """All that the ledger tells now; once held, what it told last."""
        self._sync()
        return self._folded()

    @property
    def head(self) -> Head:
        """The last entry."""
        self._sync()
        return self._ledger.head

    def is_empty(self) -> bool:
        """Whether nothing was written yet."""
        self._sync()
        return not self._replay.last

    def attempt(self, kind: Kind, body: Mapping[str, Any]) -> bool:
        """Append right after the entries that the last history told; False if others came first."""
        self._fresh = False
        event = Event(
            seq=self._replay.last + 1,
            time=utc_now(),
            bench=self.bench,
            id=os.urandom(8).hex(),
            kind=kind,
            body=body,
        )
        try:
            self._ledger.append(event)
        except LedgerConflict:
            return False
        return True

    def append(self, kind: Kind, body: Mapping[str, Any]) -> None:
        """Append whatever came before.

        Raises:
            LedgerConflict: other writers kept coming first.
        """
        for _ in tries():
            self._sync()
            if self.attempt(kind, body):
                return
        raise LedgerConflict("other writers kept coming first; nothing was written")

    def change(self, kind: Kind, build: Callable[[History], dict[str, Any]]) -> dict[str, Any]:
        """Append what `build` makes of the history, made anew while other writers come first.

        Raises:
            LedgerConflict: other writers kept coming first.
        """
        for _ in tries():
            body = build(self.history)
            if self.attempt(kind, body):
                return body
        raise LedgerConflict("other writers kept coming first; nothing was written")

    def define(self, edited: Callable[[Sequence[str]], str | None]) -> bool:
        """Append the definition that `edited` finds, given those told; False where none is new.

        Raises:
            DefinitionError: it cannot be taken.
            LedgerConflict: other writers kept coming first.
        """
        for _ in tries():
            self._sync()
            known = self._folded() if self._replay.last else None
            told = [old.text for old in known.definitions] if known else []
            if (text := edited(told)) is None:
                return False
            if self.attempt(Kind.DEFINED, defined_entry(known, text)):
                return True
        raise LedgerConflict("other writers kept coming first; nothing was written")

    def _folded(self) -> History:
        """What the entries taken in so far tell."""
        if self._history is None:
            self._history = self._replay.history(self.bench)
        return self._history

    def _sync(self) -> None:
        if self._held and self._fresh:
            return
        new = self._ledger.read(self._replay.last)
        self._fresh = True
        if new:
            self._replay.take(new)
            self._history = None
