"""SPD dumps that people name."""

from pathlib import Path
from typing import TYPE_CHECKING

from planner.errors import InputError

if TYPE_CHECKING:
    from planner.trade.timing.spd.module import Module


def read_dump(file: str) -> "Module":
    """The module that the named dump describes.

    Raises:
        InputError: no such file, or none that can be trusted.
    """
    from planner.trade.timing.spd.read import LARGEST, read_module

    try:
        with Path(file).open("rb") as dump:
            raw = dump.read(LARGEST + 1)
    except OSError as error:
        raise InputError(f"{file}: cannot be read ({error.strerror})") from None
    return read_module(raw, file)
