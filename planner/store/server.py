"""A ledger in PostgreSQL: the lines of the file format, byte for byte, one row each.

The key is the study and the number of the line that the writer believes is next, so of two
writers one is refused by the server itself. A row is in the server's own log on disk before
`append` returns. After a lost connection the same row is offered again: it is there, and ours,
or it is not, and goes in now; either way it stands once.
"""

import time
from collections.abc import Callable, Iterable, Sequence
from typing import TypeVar

from planner.domain.event import Event
from planner.domain.ledger import Head
from planner.errors import (
    InputError,
    LedgerBusy,
    LedgerConflict,
    LedgerDamaged,
    LedgerTooNew,
    LedgerUnwritable,
    StudyMissing,
)
from planner.store.address import Address
from planner.store.lines import next_line
from planner.store.lost import Refused, Unreachable
from planner.store.mirror import Mirror
from planner.store.scan import Scan, refuse_open_flaws

T = TypeVar("T")
_PAUSE_S = 0.2
_WAY_OUT = "planner check --repair says how it is mended"


class ServerLedger:
    """The ledger of one study on a server."""

    def __init__(
        self, address: Address, timeout: float = 10.0, *, mirror: Mirror | None = None
    ) -> None:
        """`timeout`: seconds for which a lost connection is tried again. `mirror`: a copy here.

        Raises:
            InputError: the driver is not installed.
        """
        try:
            from planner.store.connection import Connection  # SQL, which a file can do without
        except ImportError:
            raise InputError(
                f"store = {address}: needs a driver: pip install 'bench-planner[server]'"
            ) from None
        self.address = address
        """Where it stands; no password is shown."""
        self._timeout = timeout
        self._mirror = mirror
        self._connection = Connection(address)
        self._scan = Scan()
        self._numbers: dict[int, int] = {}
        """By entry, the number of its line: lines that were set aside have one too."""

    @property
    def head(self) -> Head:
        """The last entry as of the last read or append."""
        return self._scan.head

    @property
    def warning(self) -> str | None:
        """Why the last entry is not in the mirror; None: it is, or there is none."""
        return None if self._mirror is None else self._mirror.warning

    def append(self, event: Event) -> None:
        """Write `event` as entry `event.seq`; it is on the server's disk when this returns.

        Raises:
            LedgerConflict: `event.seq` is not the next number; another writer was first.
            LedgerBusy: the server holds the row for somebody else.
            LedgerDamaged: what stands there does not verify, or is gone; nothing was written.
            LedgerUnwritable: the server is out of reach, or refused.
            InputError: the event cannot be written as a line.
        """
        if event.seq != self.head.seq + 1:
            self.read(self.head.seq)
        if self._mirror is not None:
            self._check(self._mirror)
        self.put(next_line(event, self.head)[:-1])
        if self._mirror is not None:
            self._mirror.keep_up(self._missing, "on the server")

    def put(self, line: bytes) -> None:
        """Write a line that was made to follow the head, without its line feed.

        Raises:
            As `append` does.
        """
        number, chain, seq = self._scan.lines + 1, self.head.chain, self.head.seq + 1
        doubt = f"whether entry {seq} stands is unknown: look with show before you repeat it"
        there = self._reached(lambda: self._connection.insert(number, line, chain), doubt)
        if there is None:
            raise LedgerDamaged(
                f"{self.address}: line {number - 1} is gone or was changed while this program had"
                " it open, as when the study is moved away; nothing was written"
            )
        if there != line:
            self.read(self.head.seq)
            raise LedgerConflict(
                f"entry {seq} was to be written, but another bench was first: read again"
            )
        self._take([(number, line)])

    def read(self, after: int = 0) -> Sequence[Event]:
        """All events with `seq > after`, in order.

        Raises:
            LedgerDamaged: lines that do not verify, named by number.
            LedgerUnwritable: the server is out of reach, or refused.
        """
        self._take(self._reached(lambda: self._connection.rows(self._scan.lines)))
        refuse_open_flaws(str(self.address), self._scan, _WAY_OUT)
        return self._scan.after(after)

    def chain_at(self, seq: int) -> str | None:
        """`chain` of entry `seq` as of the last read or append, or None if there is none."""
        return self._scan.chain_at(seq)

    def age_s(self, seq: int) -> float | None:
        """Seconds since entry `seq` was written, by the server's clock alone; None: unknown."""
        number = self._numbers.get(seq)
        return None if number is None else self._reached(lambda: self._connection.age_s(number))

    def lines(self) -> list[bytes]:
        """Every line with its line feed, as it stands there now."""
        return [line + b"\n" for _, line in self._reached(lambda: self._connection.rows(0))]

    def bring(self, lines: Iterable[bytes]) -> None:
        """Put all lines of another ledger here, whole or not at all.

        Raises:
            StudyMissing: a study of that name stands there already.
            LedgerUnwritable: the server is out of reach, or refused.
        """
        plain = [line.removesuffix(b"\n") for line in lines]
        if not self._reached(lambda: self._connection.insert_all(plain)):
            raise StudyMissing(f"{self.address}: holds a study already, expected a new name")

    def begin_mirror(self, mirror: Mirror) -> None:
        """Copy all that stands here.

        Raises:
            LedgerDamaged: what stands there is ahead, or of another ledger.
            LedgerUnwritable: the disk refused, or does not read back as it was written.
        """
        self.read()
        mirror.check(self._scan)
        mirror.bring_up(self._missing)

    def take_away(self, keep: Callable[[list[bytes]], None], renamed: str) -> None:
        """Give all lines to `keep`, then put the study under another name, no writer between.

        Raises:
            LedgerUnwritable: the server is out of reach, or refused; nothing has changed there.
        """
        whole = lambda lines: keep([line + b"\n" for line in lines])  # noqa: E731
        self._reached(lambda: self._connection.rename(whole, renamed))

    def _check(self, mirror: Mirror) -> None:
        """A copy that is ahead may know of another window's entry; if not, it is refused."""
        try:
            mirror.check(self._scan)
        except LedgerDamaged:
            self.read(self.head.seq)
            mirror.check(self._scan)

    def _missing(self, lines: int, size: int) -> bytes:
        """The lines that a copy lacks, up to the last one that was verified here."""
        rows = self._reached(lambda: self._connection.rows(lines))
        return b"".join(line + b"\n" for number, line in rows if number <= self._scan.lines)

    def _take(self, rows: Sequence[tuple[int, bytes]]) -> None:
        for number, line in rows:
            if number != self._scan.lines + 1:
                raise LedgerDamaged(
                    f"{self.address}: line {self._scan.lines + 1} is missing on the server"
                )
            try:
                self._scan.take([line])
            except LedgerTooNew as error:
                self._scan = Scan()
                raise LedgerTooNew(f"{self.address}, line {number}: {error}") from None
            self._numbers[self.head.seq] = number

    def _reached(self, call: Callable[[], T], doubt: str = "") -> T:
        """What a call gives that may be repeated; it is, while the connection is lost."""
        until = time.monotonic() + self._timeout
        pause = 0.0
        while True:
            try:
                return call()
            except Unreachable as lost:
                if lost.final or time.monotonic() > until:
                    more = f"; {doubt}" if doubt else ""
                    raise LedgerUnwritable(
                        f"{self.address} cannot be reached: {lost}{more}"
                    ) from None
                time.sleep(pause)
                pause = _PAUSE_S
            except Refused as refused:
                kind = LedgerBusy if refused.busy else LedgerUnwritable
                raise kind(f"{self.address} refused: {refused}") from None
