"""A second copy of a ledger, on another disk, read back after every entry.

Bad memory can spoil a page between the program and the disk, and the disk can lie. So what was
written is read back from both places, past the system's cache where it lets us, and compared with
what was meant. The copy is the same lines, byte for byte, and never ahead of the ledger, which
may as well stand on a server.
"""

import os
from collections.abc import Callable
from contextlib import suppress
from io import FileIO
from pathlib import Path

from planner.errors import LedgerDamaged, LedgerError, LedgerUnwritable
from planner.store.disk import locked, opened, sync_folder, write_whole
from planner.store.scan import Scan, name_flaws, refuse_open_flaws
from planner.store.tape import Tape

_CHUNK = 1 << 20
Missing = Callable[[int, int], bytes]
"""What a copy lacks that holds so many lines, and so many bytes."""


class Mirror:
    """The copy at a path; its folder must be there, so that a stick that is out is noticed."""

    def __init__(self, path: Path, timeout: float = 5.0) -> None:
        """Nothing is read yet."""
        self.path = path
        self.warning: str | None = None
        """Why the last entry is not in it; None: it is."""
        self._timeout = timeout
        self._tape = Tape(path)

    def check(self, ledger: Scan) -> None:
        """Before anything is written: does the copy hold the beginning of the ledger?

        Raises:
            LedgerDamaged: it is ahead, or of another ledger.
        """
        try:
            with FileIO(self.path) as file:
                self._tape.catch_up(file)
        except (LedgerError, OSError):
            return  # told when it is written to
        copied = self._tape.scan
        common = min(copied.head.seq, ledger.head.seq)
        if common and copied.chain_at(common) != ledger.chain_at(common):
            raise LedgerDamaged(f"the mirror {self.path} {_parting(copied, ledger)}: move it away")
        if (ahead := copied.head.seq - ledger.head.seq) > 0:
            raise LedgerDamaged(
                f"the mirror {self.path} goes on where the ledger ends ({ahead} more): the ledger"
                " has lost its end; planner check --repair takes it back"
            )

    def follow(self, ledger: Path, line: bytes) -> None:
        """After `line` was written to `ledger` as its last: read it back, and copy what is missing.

        The caller holds the ledger's lock.

        Raises:
            LedgerUnwritable: the ledger does not read back as it was written.
        """
        spoilt = read_back(ledger, len(line)) != line
        self.keep_up(lambda _, size: _meant(_from(ledger, size), line), "on disk")
        if spoilt:
            where = "and so is the mirror" if self.warning else f"{self.path} has it whole"
            raise LedgerUnwritable(
                f"{ledger} does not read back as it was written: bad memory or a bad disk. The"
                f" last entry is spoilt there, {where}. Mend the machine, then planner check"
                " --repair"
            )

    def keep_up(self, missing: Missing, place: str) -> None:
        """Copy what is missing; trouble is a warning, since the entry itself stands at `place`."""
        try:
            self.bring_up(missing)
            self.warning = None
        except (LedgerError, OSError) as error:
            reason = error.strerror if isinstance(error, OSError) else str(error)
            self.warning = f"the entry is {place}, but not in the mirror {self.path}: {reason}"

    def bring_up(self, missing: Missing) -> None:
        """Copy what is missing and read it back.

        Raises:
            LedgerUnwritable: the disk refused, or does not read back as it was written.
        """
        if not self.path.parent.is_dir():
            raise LedgerUnwritable(f"there is no folder {self.path.parent}")
        begun = self.path.exists()
        with locked(self.path, self._timeout), opened(self.path) as file:
            self._tape.catch_up(file)
            if flaws := self._tape.scan.open_flaws():
                raise LedgerUnwritable(f"it is damaged ({name_flaws(flaws)}): move it away")
            self._tape.cut_tail(file)
            lacked = missing(self._tape.scan.lines, file.seek(0, os.SEEK_END))
            write_whole(file.fileno(), lacked)
            os.fsync(file.fileno())
            if not begun:
                sync_folder(self.path.parent)
            if read_back(self.path, len(lacked)) != lacked:
                raise LedgerUnwritable("it does not read back as it was written")
            self._tape.catch_up(file)


def mirror_ledger(ledger: Path, mirror: Path, timeout: float = 5.0) -> None:
    """Copy what a ledger file holds already to `mirror`, the file of a new second copy.

    Raises:
        LedgerBusy: another program holds one of the two.
        LedgerDamaged: what stands there is ahead, or of another ledger.
        LedgerUnwritable: the disk refused, or does not read back as it was written.
    """
    with locked(ledger, timeout):
        own = Tape(ledger)
        with opened(ledger) as file:
            own.catch_up(file)
        refuse_open_flaws(str(ledger), own.scan)
        copy = Mirror(mirror, timeout)
        copy.check(own.scan)
        copy.bring_up(lambda _, size: _from(ledger, size))


def read_back(path: Path, size: int) -> bytes:
    """The last `size` bytes of a file, from the disk itself where the system offers that."""
    with FileIO(path) as file:
        if hasattr(os, "posix_fadvise"):
            with suppress(OSError):
                os.posix_fadvise(file.fileno(), 0, 0, os.POSIX_FADV_DONTNEED)
        file.seek(max(os.fstat(file.fileno()).st_size - size, 0))
        return _all(file)


def _meant(written: bytes, line: bytes) -> bytes:
    """With what was meant as the last line, not what was read; none if another copied it."""
    return written[: len(written) - len(line)] + line if written else b""


def _parting(copied: Scan, ledger: Scan) -> str:
    """What two that differ have in common."""
    upto = range(min(copied.head.seq, ledger.head.seq), 0, -1)
    same = next((n for n in upto if copied.chain_at(n) == ledger.chain_at(n) is not None), 0)
    if not same:
        return "is of another ledger"
    return f"goes on otherwise than the ledger after entry {same}: one lost its end. Keep it, but"


def _from(path: Path, offset: int) -> bytes:
    with FileIO(path) as file:
        file.seek(offset)
        return _all(file)


def _all(file: FileIO) -> bytes:
    parts = []
    while part := file.read(_CHUNK):
        parts.append(part)
    return b"".join(parts)
