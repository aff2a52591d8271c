"""Files that go with a sheet: named by the SHA-256 of their bytes, pictures shown if small."""

import hashlib
from collections.abc import Iterable
from pathlib import Path

from planner.errors import InputError
from planner.report.written.blocks import Attached

EMBEDDED_BYTES = 1_000_000
"""A picture is shown in the sheet if it is smaller."""
PICTURES = (".png", ".svg", ".jpg", ".jpeg", ".gif", ".webp")
"""Endings of the files that are taken from a study's folder of pictures."""
_BLOCK = 1 << 20
_PNG = b"\x89PNG\r\n\x1a\n"


def pictures_in(folder: Path) -> list[Path]:
    """The pictures in a folder, by name; none where there is no such folder.

    Raises:
        InputError: the folder cannot be read.
    """
    if not folder.is_dir():
        return []
    try:
        found = sorted(folder.iterdir(), key=lambda path: path.name)
    except OSError as error:
        raise InputError(f"{folder}: cannot be read ({error.strerror})") from None
    return [p for p in found if p.suffix.lower() in PICTURES and p.is_file()]


def attached_files(files: Iterable[Path]) -> tuple[Attached, ...]:
    """The files as they go with a sheet, each once, in the order given.

    Raises:
        InputError: a file that is not there or cannot be read.
    """
    return tuple(_attached(file) for file in {f.resolve(): f for f in files}.values())


def _attached(file: Path) -> Attached:
    digest, size, start = hashlib.sha256(), 0, b""
    try:
        with file.open("rb") as stream:
            while block := stream.read(_BLOCK):
                digest.update(block)
                size += len(block)
                start = start or block
    except OSError as error:
        raise InputError(
            f"{file}: cannot be read ({error.strerror}), expected a file to attach"
        ) from None
    kind = _media_type(file, start)
    shown = start if kind and size < EMBEDDED_BYTES else None
    return Attached(file.name, digest.hexdigest(), size, kind, shown)


def _media_type(file: Path, start: bytes) -> str:
    """By its content as well as its name, so that nothing is shown that is no picture."""
    if file.suffix.lower() == ".png" and start.startswith(_PNG):
        return "image/png"
    if file.suffix.lower() == ".svg" and b"<svg" in start:
        return "image/svg+xml"
    return ""
