"""A ledger in a text file: one line an entry, on the disk before `append` returns."""

from collections.abc import Sequence
from io import FileIO
from pathlib import Path

from planner.domain.event import Event
from planner.domain.ledger import Head
from planner.errors import LedgerDamaged, LedgerError, LedgerUnwritable, StudyMissing
from planner.store.disk import locked, opened
from planner.store.lines import next_line
from planner.store.mirror import Mirror
from planner.store.scan import refuse_open_flaws
from planner.store.tape import Tape


class FileLedger:
    """The ledger at a path; the file is created by the first `append`.

    Several processes may hold one: each `append` locks, takes in what others added, and writes.
    """

    def __init__(self, path: Path, timeout: float = 5.0, *, mirror: Mirror | None = None) -> None:
        """`timeout`: seconds to wait for another writer. `mirror`: keeps a second copy."""
        self._path = path
        self._mirror = mirror
        self._timeout = timeout
        self._tape = Tape(path)

    @property
    def head(self) -> Head:
        """The last entry as of the last read or append."""
        return self._tape.scan.head

    @property
    def torn(self) -> bytes | None:
        """The torn last line that was met: moved to `<name>.torn`, or still there; else None."""
        return self._tape.set_aside or self._tape.tail or None

    @property
    def warning(self) -> str | None:
        """What a person should be told of a torn last line or the mirror; None: nothing."""
        if self._mirror is not None and self._mirror.warning:
            return self._mirror.warning
        if aside := self._tape.set_aside:
            return (
                f"a torn last line ({len(aside)} bytes, never confirmed) was set aside "
                f"in {self._path.name}.torn"
            )
        if tail := self._tape.tail:
            return (
                f"the last line of {self._path.name} is not whole ({len(tail)} bytes): it is being "
                "written now, or a power loss cut it; the next entry, or planner check --repair,"
                " sets it aside"
            )
        return None

    def append(self, event: Event) -> None:
        """Write `event` as entry `event.seq`; it is on the disk when this returns.

        Raises:
            LedgerConflict: `event.seq` is not the next number; another writer was first.
            LedgerBusy: another program holds the ledger.
            LedgerDamaged: what stands there does not verify; nothing was written.
            LedgerUnwritable: the disk refused; nothing that stood there was lost.
            InputError: the event cannot be written as a line.
            StudyMissing: the folder is not there.
        """
        self._refuse_broken()
        with locked(self._path, self._timeout):
            self._refuse_vanished()
            with opened(self._path) as file:
                self._catch_up(file)
                line = next_line(event, self.head)
                if self._mirror is not None:
                    self._mirror.check(self._tape.scan)
                self._tape.cut_tail(file)
                self._tape.write(file, line)
            if self._mirror is not None:
                self._mirror.follow(self._path, line)

    def read(self, after: int = 0) -> Sequence[Event]:
        """All events with `seq > after`, in order; none if the file is not there yet.

        Raises:
            LedgerDamaged: lines that do not verify, named by line number.
            LedgerUnwritable: a sync failed before; open the ledger anew.
            StudyMissing: the folder is not there.
            LedgerError: the system refuses to read the file.
        """
        self._refuse_broken()
        self._refuse_vanished()
        try:
            with FileIO(self._path) as file:
                self._catch_up(file)
        except FileNotFoundError:
            if not self._path.parent.is_dir():
                raise StudyMissing(f"there is no folder {self._path.parent}") from None
        except OSError as error:
            raise LedgerError(f"{self._path} cannot be read: {error.strerror}") from error
        return self._tape.scan.after(after)

    def chain_at(self, seq: int) -> str | None:
        """`chain` of entry `seq` as of the last read or append, or None if there is none."""
        return self._tape.scan.chain_at(seq)

    def _catch_up(self, file: FileIO) -> None:
        self._tape.catch_up(file)
        refuse_open_flaws(str(self._path), self._tape.scan)

    def _refuse_broken(self) -> None:
        if self._tape.broken:
            raise LedgerUnwritable(
                f"{self._path} could not be brought to the disk before: whether the last entry is "
                "there is unknown. Check the disk, then open the study again"
            )

    def _refuse_vanished(self) -> None:
        if self._tape.begun and not self._path.exists():
            raise LedgerDamaged(f"{self._path} is gone; it was there when this program opened it")
