"""Whether a person has agreed to a study's commands, as they stand to the letter.

What was agreed to is kept outside every study, so that no study file can agree to itself.
"""

import json
import os
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import file_digest, sha256
from pathlib import Path

from planner.bench import state_folder
from planner.domain.drive import Command, Drive
from planner.errors import InputError

_FILE = "agreed.json"


@dataclass(frozen=True, slots=True)
class Agreement:
    """The commands of one study in one folder, with the files in that folder that they name."""

    folder: Path
    commands: tuple[tuple[str, Command], ...]
    files: tuple[tuple[str, str], ...]
    """Path inside the folder and SHA-256 of its bytes, in hexadecimal."""

    @property
    def digest(self) -> str:
        """SHA-256 of all of it."""
        whole = [str(self.folder), self.commands, self.files]
        return sha256(json.dumps(whole).encode("ascii")).hexdigest()


def agreement_to(drive: Drive, folder: Path) -> Agreement:
    """What is to be agreed to before anything is run."""
    home = folder.resolve()
    named = (
        ("apply", drive.apply),
        ("workload", drive.workload),
        ("probe", drive.probe),
        ("restore", drive.restore),
    )
    commands = tuple((what, command) for what, command in named if command)
    return Agreement(home, commands, tuple(sorted(set(_files(commands, home)))))


def _files(commands: tuple[tuple[str, Command], ...], home: Path) -> Iterator[tuple[str, str]]:
    for _, command in commands:
        for argument in command:
            path = home / argument
            try:
                if path.is_file() and path.resolve().is_relative_to(home):
                    with path.open("rb") as file:
                        yield argument, file_digest(file, "sha256").hexdigest()
            except (OSError, ValueError):
                continue  # no name of a file


def is_agreed(agreement: Agreement) -> bool:
    """Whether exactly this was agreed to on this machine.

    Raises:
        InputError: the list of agreements cannot be read.
    """
    return agreement.digest in _read()


def agree(agreement: Agreement) -> Path:
    """Remember that this was agreed to; the file that holds it.

    Raises:
        InputError: the list of agreements cannot be read or written.
    """
    digests = [*_read(), agreement.digest]
    path = _place()
    try:
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        with tempfile.NamedTemporaryFile("w", dir=path.parent, delete=False) as file:
            json.dump({"schema": 1, "agreed": sorted(set(digests))}, file, indent=1)
        os.replace(file.name, path)
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
