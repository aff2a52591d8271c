"""The key that a link to the page carries, kept beside the study so that a link stays good."""

import os
import re
import secrets
from pathlib import Path

from planner.errors import InputError

FILE = ".page-key"
_KEY = re.compile(r"[A-Za-z0-9_-]{22}")


def kept_key(folder: Path) -> str:
    """The study's key; a new one, readable by its owner alone, where there is none.

    128 bits from the system's source of randomness.

    Raises:
        InputError: it cannot be kept.
    """
    file = folder / FILE
    try:
        known = file.read_text("ascii").strip()
    except (OSError, ValueError):
        known = ""
    if _KEY.fullmatch(known):
        return known
    key = secrets.token_urlsafe(16)
    forget_key(folder)
    try:
        with open(os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w") as kept:
            kept.write(f"{key}\n")
    except OSError as error:
        raise InputError(f"{file}: the link's key cannot be kept ({error.strerror})") from None
    return key


def forget_key(folder: Path) -> None:
    """Have a new key made next time.

    Raises:
        InputError: the old one cannot be removed.
    """
    file = folder / FILE
    try:
        file.unlink(missing_ok=True)
    except OSError as error:
        raise InputError(f"{file}: cannot be removed ({error.strerror})") from None
