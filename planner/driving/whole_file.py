"""A small file that is replaced as a whole and is on the disk before the call returns."""

import os
import tempfile
from contextlib import suppress
from pathlib import Path


def write_whole(path: Path, text: str) -> None:
    """Put `text` in the place of what stood at `path`.

    Raises:
        OSError: the disk refuses; what stood there is as it was.
    """
    descriptor, fresh = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}-")
    try:
        with open(descriptor, "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        os.replace(fresh, path)
    except OSError:
        with suppress(OSError):
            os.unlink(fresh)
        raise
    _sync_folder(path.parent)


def _sync_folder(folder: Path) -> None:
    if not hasattr(os, "O_DIRECTORY"):
        return
    descriptor = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
