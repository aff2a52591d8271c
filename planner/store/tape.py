"""A ledger file as far as it was read: it takes in what was added, and adds at its end."""

import os
from contextlib import suppress
from io import FileIO
from pathlib import Path

from planner.errors import LedgerDamaged, LedgerTooNew
from planner.store.disk import append_synced, refused, sync_folder, write_whole
from planner.store.lines import MAX_LINE, SUFFIX
from planner.store.scan import Scan

_CHUNK = 64 * 1024  # small enough that its lines stay in the processor's cache
_MARK = SUFFIX + 1


class Tape:
    """Lines taken from one file, and where they end. The caller opens the file, and locks it."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.scan = Scan()
        """The entries so far."""
        self.tail = b""
        """Bytes after the last line feed: being written now, or cut by a power loss."""
        self.set_aside: bytes | None = None
        """The last torn tail that this object moved out of the ledger."""
        self.broken = False
        """A sync failed: what is on the disk is unknown from there on."""
        self._end = 0
        self._mark = b""
        self._identity: tuple[int, int] | None = None

    @property
    def begun(self) -> bool:
        """Whether the file was seen before."""
        return self._identity is not None

    def catch_up(self, file: FileIO) -> None:
        """Take in the whole lines that were added since the last time.

        Raises:
            LedgerDamaged: the file was replaced, cut or changed, or a line is far too long.
            LedgerTooNew: a line was written by a newer planner.
        """
        self._refuse_other(file)
        try:
            self._take(file)
        except LedgerTooNew as error:
            line = self.scan.lines
            self._rewind()
            raise LedgerTooNew(f"{self.path}, line {line}: {error}") from None
        except BaseException:
            self._rewind()
            raise

    def cut_tail(self, file: FileIO) -> None:
        """Move a torn tail to `<name>.torn` and cut it from the ledger.

        Raises:
            LedgerUnwritable: the disk refuses; the tail stays.
        """
        if not self.tail:
            return
        try:
            append_synced(self.path.with_name(f"{self.path.name}.torn"), self.tail + b"\n")
            file.truncate(self._end)
            os.fsync(file.fileno())  # or what comes now could be mixed with it by a power cut
        except OSError as error:
            raise refused(self.path, "has a torn last line that cannot be moved", error) from error
        self.set_aside, self.tail = self.tail, b""

    def write(self, file: FileIO, line: bytes) -> None:
        """Add `line` (with its line feed) as the last one; it is on the disk when this returns.

        Raises:
            LedgerUnwritable: the disk refuses; after a failed sync the tape is broken.
        """
        try:
            write_whole(file.fileno(), line)
        except OSError as error:
            with suppress(OSError):  # what is left then is a torn tail, which the next one cuts
                file.truncate(self._end)
            raise refused(self.path, "could not be written", error) from error
        try:
            os.fsync(file.fileno())
            if self._end == 0:
                sync_folder(self.path.parent)
        except OSError as error:
            # A second sync would report success for pages that the first one dropped.
            self.broken = True
            raise refused(
                self.path, "took the last entry, but may not have it on disk: reopen it", error
            ) from error
        self._advance([line[:-1]], line, self._end + len(line))

    def _rewind(self) -> None:
        self.scan, self._end, self._mark = Scan(), 0, b""

    def _take(self, file: FileIO) -> None:
        file.seek(self._end)
        rest = b""
        while chunk := file.read(_CHUNK):
            data = rest + chunk
            *lines, rest = data.split(b"\n")
            if lines and b"\0" in lines[-1]:
                # Blocks of it never reached the disk, though its end did. No entry holds such a
                # byte, so if nothing follows it was never confirmed; else it is looked at again.
                rest = lines.pop() + b"\n" + rest
            self._advance(lines, data[: len(data) - len(rest)], file.tell() - len(rest))
            if len(rest) > MAX_LINE:
                raise LedgerDamaged(
                    f"{self.path} has no line end within {MAX_LINE} bytes after line "
                    f"{self.scan.lines}: this is no ledger; put a sound copy back"
                )
        self.tail = rest

    def _advance(self, lines: list[bytes], data: bytes, end: int) -> None:
        self.scan.take(lines)
        self._end = end
        self._mark = (self._mark + data[-_MARK:])[-_MARK:]

    def _refuse_other(self, file: FileIO) -> None:
        """Refuse a file that is not the one read before with something added."""
        status = os.fstat(file.fileno())
        if self._identity is None:
            self._identity = (status.st_dev, status.st_ino)
        if self._identity != (status.st_dev, status.st_ino):
            raise self._changed("was replaced by another file")
        if status.st_size < self._end:
            raise self._changed(f"lost its last {self._end - status.st_size} bytes")
        file.seek(self._end - len(self._mark))
        if file.read(len(self._mark)) != self._mark:
            raise self._changed("was changed where it had been read")

    def _changed(self, what: str) -> LedgerDamaged:
        return LedgerDamaged(
            f"{self.path} {what} while this program had it open; nothing was written. "
            "Find out which program did that, then open the study again"
        )
