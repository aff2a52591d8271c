"""From events to history: a pure fold, replayed anew whenever the ledger has grown.

Amendments are merged into the runs they mend before anything is derived from them, so a
ledger with an amended run gives the history of one that was recorded right at first, and a
voided run leaves no trace but its entry.
"""

from collections.abc import Sequence

from planner.domain.event import Event, Kind
from planner.errors import LedgerDamaged
from planner.history import History
from planner.replay.state import State
from planner.replay.steps import amendments_in, step

__all__ = ["Replay", "fold"]


def fold(events: Sequence[Event], source: str = "study.toml") -> History:
    """The history that the events tell; the first must define the study.

    Raises:
        LedgerDamaged: an event whose body is not what its kind calls for.
    """
    replay = Replay(source)
    replay.take(events)
    return replay.history()


class Replay:
    """A fold that goes on as the ledger grows; an amendment makes it begin anew."""

    def __init__(self, source: str = "study.toml") -> None:
        """`source`: the file that messages about the definition name."""
        self._source = source
        self._events: list[Event] = []
        self._state = State({}, source)
        self._fault: LedgerDamaged | None = None

    @property
    def last(self) -> int:
        """Number of the last entry taken; 0 before the first."""
        return self._events[-1].seq if self._events else 0

    def take(self, events: Sequence[Event]) -> None:
        """Fold further events in.

        Raises:
            LedgerDamaged: an event whose body is not what its kind calls for.
        """
        if self._fault is not None:
            raise self._fault
        try:
            self._fold(events)
        except LedgerDamaged as fault:
            self._fault = fault
            raise
        self._events.extend(events)

    def _fold(self, events: Sequence[Event]) -> None:
        if any(event.kind is Kind.AMENDED for event in events):
            events = [*self._events, *events]
            self._state = State(amendments_in(events), self._source)
        for event in events:
            step(self._state, event)

    def history(self, bench: str | None = None) -> History:
        """What the events so far tell, seen from a bench; None: from the last to be told of."""
        if not self._state.definitions:
            raise LedgerDamaged("the ledger does not begin with a definition of the study")
        return self._state.history(bench)
