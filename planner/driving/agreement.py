"""What is to be agreed to before a study may run anything: its commands, to the letter."""

from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import file_digest
from pathlib import Path

from planner.domain.drive import Command, Drive
from planner.driving.agreed import digest_of


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
        return digest_of(str(self.folder), self.commands, self.files)


def agreement_to(drive: Drive, folder: Path) -> Agreement:
    """What is to be agreed to before anything is run."""
    home = folder.resolve()
    named = (
        ("apply", drive.apply),
        ("workload", drive.workload),
        ("probe", drive.probe),
        ("restore", drive.restore),
        ("heartbeat", drive.heartbeat),
        ("reset", drive.reset),
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
