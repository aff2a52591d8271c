"""The part of a study's folder that a drive writes to, and never past it."""

from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from planner.errors import InputError, LedgerUnwritable

FOLDER = "drive"
KEPT = ("study.toml", "ledger.jsonl", "store.toml")
"""Beginnings of the names of files that no command is given."""
MOST_LOGS = 200
"""Older outputs are deleted."""


@dataclass(frozen=True, slots=True)
class Room:
    """Where a drive keeps what it writes down between runs."""

    study: Path
    """The study's folder, in which commands run too."""

    @classmethod
    def of(cls, study: Path) -> "Room":
        """The room of a study, made if it is not there.

        Raises:
            InputError: it would lie outside the study's folder.
            LedgerUnwritable: the disk refuses.
        """
        room = cls(study.resolve())
        if room.folder.is_symlink() or (room.folder.exists() and not room.folder.is_dir()):
            raise InputError(f"{room.folder}: expected a folder, not a link to another place")
        try:
            room.folder.mkdir(exist_ok=True)
        except OSError as error:
            raise LedgerUnwritable(f"{room.folder}: cannot be made ({error.strerror})") from None
        return room

    @property
    def folder(self) -> Path:
        """The folder itself."""
        return self.study / FOLDER

    @property
    def settings(self) -> Path:
        """The values of the present run, for commands that read a file."""
        return self.folder / "settings.json"

    @property
    def under_way(self) -> Path:
        """How far the present drive has come."""
        return self.folder / "under-way.json"

    @property
    def lock(self) -> Path:
        """Held while a drive goes on."""
        return self.folder / "lock"

    def output(self, run: int) -> Path:
        """What the workload of a run printed."""
        return self.folder / f"run-{run:05d}.txt"

    def inside(self, name: str) -> Path:
        """A file of the person's, by its path inside the study's folder.

        Raises:
            InputError: links lead out of it, or it is one that the planner keeps.
        """
        path = (self.study / name).resolve()
        if not path.is_relative_to(self.study):
            raise InputError(f"{name}: leads out of the study's folder {self.study}")
        first = path.relative_to(self.study).parts[:1]
        if not first or first[0] == FOLDER or first[0].casefold().startswith(KEPT):
            raise InputError(f"{name}: is the planner's own, expected another file")
        return path

    def keep_output(self, run: int, text: str) -> None:
        """Keep what a run printed; outputs of long ago make room."""
        with suppress(OSError):  # worth less than the run itself
            path = self.output(run)
            path.unlink(missing_ok=True)  # a link there is not followed
            path.write_text(text, encoding="utf-8", errors="replace", newline="\n")
            old = sorted(self.folder.glob("run-*.txt"))[:-MOST_LOGS]
            for each in old:
                each.unlink()
