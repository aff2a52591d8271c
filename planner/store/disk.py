"""What a ledger file needs of the operating system: one lock, whole writes, real syncs."""

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from io import FileIO
from itertools import count
from pathlib import Path

from planner.errors import LedgerBusy, LedgerUnwritable, StudyMissing

_POLL_SECONDS = 0.01


@contextmanager
def locked(path: Path, timeout: float) -> Iterator[None]:
    """Hold the ledger at `path` alone, by an operating-system lock on `<name>.lock` beside it.

    The system frees such a lock when its holder ends, however it ends; the empty lock file stays
    for good and means nothing.

    Raises:
        StudyMissing: there is no folder to hold the ledger.
        LedgerBusy: another program held the lock for `timeout` seconds.
        LedgerUnwritable: the disk refuses the lock file.
    """
    # Here, because only writers need it and readers are to start fast.
    from filelock import FileLock, Timeout

    if not path.parent.is_dir():
        raise StudyMissing(f"there is no folder {path.parent}, so no ledger {path.name} in it")
    lock = FileLock(
        f"{path}.lock",
        timeout=timeout,
        poll_interval=_POLL_SECONDS,
        fallback_to_soft=False,
        preserve_lock_file=True,
    )
    try:
        lock.acquire()
    except Timeout:
        raise LedgerBusy(
            f"{path} was held by another program for {timeout:g} s; nothing was written. "
            "Close the other window that uses this study, or try again"
        ) from None
    except (OSError, NotImplementedError) as error:
        raise refused(path, "cannot be locked", error) from error
    try:
        yield
    finally:
        lock.release()


@contextmanager
def opened(path: Path) -> Iterator[FileIO]:
    """The ledger at `path` for reading and appending, created empty if it is not there.

    Raises:
        LedgerUnwritable: the disk refuses, now or while the file is in use.
    """
    try:
        with FileIO(path, "a+") as file:
            yield file
    except OSError as error:
        raise refused(path, "cannot be opened, or not be read before writing", error) from error


def whole_lines(path: Path) -> list[bytes]:
    """The lines of a file with their line feeds; a torn last one was never confirmed."""
    return [line + b"\n" for line in path.read_bytes().split(b"\n")[:-1]]


def write_whole(descriptor: int, data: bytes) -> None:
    """Write all of `data`: one call, unless the disk takes only a part, then on to its reason."""
    written = os.write(descriptor, data)
    while written < len(data):
        written += os.write(descriptor, data[written:])


def append_synced(path: Path, data: bytes) -> None:
    """Append `data` to the file at `path` and have it on the disk."""
    with FileIO(path, "a") as file:
        write_whole(file.fileno(), data)
        os.fsync(file.fileno())


def replace_synced(path: Path, data: bytes, mode: int = 0o666) -> None:
    """Have `data` on the disk at `path`, in the place of what stood there, or nothing changed.

    `mode`: who may use the file, before the system's own mask. Of several writers each has a
    file of its own until then, and none writes through a link that somebody laid there.

    Raises:
        OSError: the disk refuses.
    """
    fresh = path.with_name(f"{path.name}.{os.urandom(4).hex()}.new")
    try:
        with FileIO(fresh, "x", opener=lambda name, flags: os.open(name, flags, mode)) as file:
            write_whole(file.fileno(), data)
            os.fsync(file.fileno())
        os.replace(fresh, path)
    except OSError:
        with suppress(OSError):
            fresh.unlink(missing_ok=True)
        raise
    sync_folder(path.parent)


def sync_folder(folder: Path) -> None:
    """Have the names in `folder` on the disk, where the system can (not on Windows)."""
    if not hasattr(os, "O_DIRECTORY"):
        return
    descriptor = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def refused(path: Path, what: str, error: BaseException) -> LedgerUnwritable:
    """The error to raise when the system refuses something at `path`."""
    reason = getattr(error, "strerror", None) or str(error)
    return LedgerUnwritable(f"{path} {what}: {reason}. What was confirmed before still stands")


def copy_aside(path: Path) -> None:
    """Copy the file at `path` to `<name>.damaged-N`, the first N that is free.

    Raises:
        LedgerUnwritable: the disk refuses.
    """
    names = (path.with_name(f"{path.name}.damaged-{number}") for number in count(1))
    free = next(name for name in names if not name.exists())
    try:
        shutil.copyfile(path, free)
    except OSError as error:
        with suppress(OSError):
            free.unlink(missing_ok=True)
        raise refused(path, f"could not be copied to {free.name}", error) from error
