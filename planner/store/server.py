"""A ledger in PostgreSQL: the lines of the file format, byte for byte, one row each.

The key is the study and the number of the line that the writer believes is next, so of two
writers one is refused by the server itself. A row is in the server's own log on disk before
`append` returns. After a lost connection the same row is offered again: it is there, and ours,
or it is not, and goes in now; either way it stands once.
"""

import time
from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING, Any, TypeVar

from planner.domain.event import Event
from planner.domain.ledger import Head
from planner.errors import LedgerBusy, LedgerConflict, LedgerError, LedgerUnwritable, StudyMissing
from planner.store.address import Address
from planner.store.connection import Connection, Refused, Unreachable
from planner.store.lines import next_line
from planner.store.scan import Scan, refuse_open_flaws

if TYPE_CHECKING:
    from sqlalchemy import Connection as Link

T = TypeVar("T")
_PAUSE_S = 0.2


class ServerLedger:
    """The ledger of one study on a server."""

    def __init__(self, address: Address, timeout: float = 10.0) -> None:
        """`timeout`: seconds for which a lost connection is tried again."""
        self._address = address
        self._timeout = timeout
        self._connection = Connection(address)
        self._scan = Scan()
        self._written: dict[int, float] = {}
        self._now = (0.0, 0.0)
        self.warning: str | None = None
        """Never anything: the server heals its own torn writes."""

    @property
    def head(self) -> Head:
        """The last entry as of the last read or append."""
        return self._scan.head

    def append(self, event: Event) -> None:
        """Write `event` as entry `event.seq`; it is on the server's disk when this returns.

        Raises:
            LedgerConflict: `event.seq` is not the next number; another writer was first.
            LedgerBusy: the server holds the row for somebody else.
            LedgerDamaged: what stands there does not verify; nothing was written.
            LedgerUnwritable: the server is out of reach, or refused.
            InputError: the event cannot be written as a line.
        """
        self.read(self._scan.head.seq)
        line = next_line(event, self._scan.head)
        number = self._scan.lines + 1
        until = time.monotonic() + self._timeout
        while True:
            try:
                taken = self._connection.insert(number, line[:-1])
                break
            except Unreachable as lost:
                if time.monotonic() > until:
                    raise LedgerUnwritable(
                        f"{self._address} was lost while entry {event.seq} was written, and whether"
                        f" it stands is unknown ({lost}): look with planner show before you repeat it"
                    ) from None
                time.sleep(_PAUSE_S)
            except Refused as refused:
                raise LedgerUnwritable(f"{self._address} refused the entry: {refused}") from None
        if not taken:
            self.read(self._scan.head.seq)
            raise LedgerConflict(
                f"entry {event.seq} was to be written, but another bench was first: read again"
            )
        self._take([(number, line[:-1], self._server_now())])

    def read(self, after: int = 0) -> Sequence[Event]:
        """All events with `seq > after`, in order.

        Raises:
            LedgerDamaged: lines that do not verify, named by number.
            LedgerError: the server is out of reach.
        """
        asked = time.monotonic()
        rows, now = self._reached(lambda: self._connection.rows(self._scan.lines))
        self._now = (now, asked)
        self._take(rows)
        refuse_open_flaws(str(self._address), self._scan)
        return self._scan.after(after)

    def chain_at(self, seq: int) -> str | None:
        """`chain` of entry `seq` as of the last read or append, or None if there is none."""
        return self._scan.chain_at(seq)

    def age_s(self, seq: int) -> float | None:
        """Seconds since entry `seq` was written, by the server's clock alone; None: unknown."""
        written = self._written.get(seq)
        return None if written is None else self._server_now() - written

    def lines(self) -> list[bytes]:
        """Every line with its line feed."""
        rows, _ = self._reached(lambda: self._connection.rows(0))
        return [line + b"\n" for _, line, _ in rows]

    def bring(self, lines: Iterable[bytes]) -> None:
        """Put all lines of another ledger here, whole or not at all.

        Raises:
            StudyMissing: a study of that name stands there already.
            LedgerError: the server is out of reach, or refused.
        """
        numbered = [(n, line.removesuffix(b"\n")) for n, line in enumerate(lines, 1)]
        if not self._reached(lambda: self._connection.insert_all(numbered)):
            raise StudyMissing(f"{self._address}: holds a study already, expected a new name")

    def take_away(self, keep: Callable[[list[bytes]], None], renamed: str) -> None:
        """Give all lines to `keep`, then put the study under another name, no writer between.

        Raises:
            LedgerError: the server is out of reach, or refused; nothing has changed there.
        """
        self._reached(lambda: self._connection.rename(keep, renamed))

    def _take(self, rows: Sequence[tuple[int, bytes, float]]) -> None:
        for number, line, written in rows:
            if number != self._scan.lines + 1:
                raise LedgerError(
                    f"{self._address}: line {self._scan.lines + 1} is missing on the server"
                )
            self._scan.take([line])
            self._written[self._scan.head.seq] = written

    def _server_now(self) -> float:
        now, asked = self._now
        return now + (time.monotonic() - asked)

    def _reached(self, call: Callable[[], T]) -> T:
        """What a harmless call gives; it is repeated while the connection is lost."""
        until = time.monotonic() + self._timeout
        while True:
            try:
                return call()
            except Unreachable as lost:
                if lost.final or time.monotonic() > until:
                    raise LedgerError(f"{self._address} cannot be reached: {lost}") from None
                time.sleep(_PAUSE_S)
            except Refused as refused:
                if refused.busy:
                    raise LedgerBusy(f"{self._address}: {refused}") from None
                raise LedgerError(f"{self._address}: {refused}") from None


Rows = tuple[list[tuple[int, bytes, float]], float]
Linked = Callable[["Link"], Any]
