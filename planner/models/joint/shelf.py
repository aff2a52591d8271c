"""A few named bytes on disk, for what may be worked out again at any time.

Commands put them into a folder outside every study, so that nobody's study can bring its own;
until a command names that folder, nothing is read or written. A file that is missing, damaged,
torn by a power cut or of another model is as good as none, and so is a folder that cannot be used:
nothing here is worth an error, nor the wait for a disk to have it for certain.
"""

import os
import platform
import sys
from collections.abc import Callable
from contextlib import suppress
from functools import cache
from hashlib import sha256
from pathlib import Path

KEPT = 8
"""So many files; those that were not asked for longest go."""
_SEAL = 32
"""Bytes of a SHA-256."""
_LARGEST = 100_000_000
_USELESS = (OSError, RuntimeError)
"""What a folder that cannot be used raises; the second where there is no home."""


class Shelf:
    """Bytes by name, in a folder that is made when it is needed."""

    def __init__(self, folder: Callable[[], Path] | None = None) -> None:
        self.folder = folder
        """None: nothing is kept."""

    def read(self, name: str) -> bytes | None:
        """What was written under a name, to the byte; None: nothing, or nothing whole."""
        if self.folder is None:
            return None
        with suppress(*_USELESS):
            sealed = _sealed(name)
            path = _path(self.folder(), sealed)
            with path.open("rb") as file:
                seal, data = file.read(_SEAL), file.read(_LARGEST)
            if seal == _seal(sealed, data):
                with suppress(OSError):
                    os.utime(path)
                return data
        return None

    def write(self, name: str, data: bytes) -> None:
        """Keep bytes under a name, whole or not at all, and no more than so many files."""
        if self.folder is None:
            return
        with suppress(*_USELESS):
            folder, sealed = self.folder(), _sealed(name)
            folder.mkdir(parents=True, exist_ok=True, mode=0o700)
            # Of several writers each has a file of its own until it is whole.
            fresh = folder / f"{sealed}.{os.urandom(4).hex()}.new"
            try:
                with open(fresh, "xb", opener=lambda at, flags: os.open(at, flags, 0o600)) as file:
                    file.write(_seal(sealed, data) + data)
                os.replace(fresh, _path(folder, sealed))
            finally:
                fresh.unlink(missing_ok=True)
            _tidy(folder)


SHELF = Shelf()
"""This process's."""


def _path(folder: Path, sealed: str) -> Path:
    return folder / f"{sealed}.particles"


def _tidy(folder: Path) -> None:
    """Remove the oldest files; also what a writer that was cut off left behind."""
    mine = [path for kind in ("*.particles", "*.new") for path in folder.glob(kind)]
    for path in sorted(mine, key=lambda path: path.stat().st_mtime_ns)[:-KEPT]:
        path.unlink(missing_ok=True)


def _sealed(name: str) -> str:
    return sha256(_here() + name.encode()).hexdigest()


def _seal(sealed: str, data: bytes) -> bytes:
    """Tells that the data are whole, and were written under this name."""
    return sha256(sealed.encode() + data).digest()


@cache
def _here() -> bytes:
    """What else numbers depend on: the model's text, and who works them out.

    A home may be shared by machines whose processors round differently.

    Raises:
        OSError: the model's text cannot be read.
    """
    joint = Path(__file__).parent
    # The nouns' text, too: the model counts with their grids and constants.
    texts = sorted([*joint.glob("*.py"), *(joint.parents[1] / "domain").glob("*.py")])
    if not texts:
        raise FileNotFoundError("the package has no source files")
    digest = sha256(f"{sys.version}\n{platform.node()}\n".encode())
    for path in texts:
        text = path.read_bytes()
        digest.update(f"{path.name} {len(text)}\n".encode() + text)
    return digest.digest()
