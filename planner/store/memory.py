"""A ledger in memory, for simulations and tests: the same lines, gone with the process."""

from collections.abc import Iterable, Sequence

from planner.domain.event import Event
from planner.domain.ledger import Head
from planner.store.lines import next_line
from planner.store.scan import Scan, refuse_open_flaws


class MemoryLedger:
    """Keeps lines in a list; a ledger for as long as the object lives."""

    def __init__(self, lines: Iterable[bytes] = ()) -> None:
        """Start with `lines`, each with its line feed, as another ledger gave them.

        Raises:
            LedgerDamaged: lines that do not verify, named by line number.
        """
        self._lines = list(lines)
        self._scan = Scan()
        self._scan.take(line.removesuffix(b"\n") for line in self._lines)
        refuse_open_flaws("the ledger in memory", self._scan)

    @property
    def lines(self) -> Sequence[bytes]:
        """Every line with its line feed, byte for byte what a file would hold."""
        return tuple(self._lines)

    @property
    def head(self) -> Head:
        """The last entry."""
        return self._scan.head

    def append(self, event: Event) -> None:
        """Keep `event` as entry `event.seq`.

        Raises:
            LedgerConflict: `event.seq` is not the next number.
            InputError: the event cannot be written as a line.
        """
        line = next_line(event, self._scan.head)
        self._scan.take([line[:-1]])
        self._lines.append(line)

    def read(self, after: int = 0) -> Sequence[Event]:
        """All events with `seq > after`, in order."""
        return self._scan.after(after)

    def chain_at(self, seq: int) -> str | None:
        """`chain` of entry `seq`, or None if there is none."""
        return self._scan.chain_at(seq)
