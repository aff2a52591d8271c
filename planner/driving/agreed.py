"""What a person has agreed to on this machine, by digest, kept outside every study.

So no study file can agree to itself.
"""

import json
from hashlib import sha256
from pathlib import Path
from typing import Any

from planner.bench import state_folder
from planner.errors import InputError
from planner.store import replace_synced

_FILE = "agreed.json"


def digest_of(*parts: Any) -> str:
    """SHA-256 over what is agreed to, as JSON; in hexadecimal."""
    return sha256(json.dumps(parts).encode("ascii")).hexdigest()


def is_kept(digest: str) -> bool:
    """Whether this was agreed to.

    Raises:
        InputError: the list of agreements cannot be read.
    """
    return digest in _read()


def keep(digest: str) -> Path:
    """Remember that this was agreed to; the file that holds it.

    Raises:
        InputError: the list of agreements cannot be read or written.
    """
    digests = [*_read(), digest]
    path = _place()
    text = json.dumps({"schema": 1, "agreed": sorted(set(digests))}, indent=1)
    try:
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        replace_synced(path, text.encode(), 0o600)
    except OSError as error:
        raise InputError(f"{path}: cannot be written: {error}") from None
    return path


def _place() -> Path:
    return state_folder() / _FILE


def _read() -> list[str]:
    path = _place()
    try:
        told = json.loads(path.read_text(encoding="utf-8"))
        return [str(digest) for digest in told["agreed"]]
    except FileNotFoundError:
        return []
    except (OSError, ValueError, TypeError, KeyError) as error:
        raise InputError(
            f"{path}: cannot be read ({error}): expected a list of agreements; remove the file to"
            " be asked anew"
        ) from None
