"""A study's folder: `study.toml` that the person edits, `ledger.jsonl` that is the truth."""

import os
from dataclasses import dataclass
from pathlib import Path

from planner.errors import DefinitionError, InputError, LedgerUnwritable, StudyMissing
from planner.store.disk import replace_synced, sync_folder

DEFINITION = "study.toml"
LEDGER = "ledger.jsonl"
MAX_DEFINITION_BYTES = 4_000_000
_OURS = ("study.", "ledger.", "store.", "drive.")


@dataclass(frozen=True, slots=True)
class StudyFolder:
    """Where the two files of a study lie."""

    path: Path

    @property
    def definition(self) -> Path:
        """The file that the person edits."""
        return self.path / DEFINITION

    @property
    def ledger(self) -> Path:
        """The file that is only ever appended to."""
        return self.path / LEDGER

    def read_definition(self, name: str | None = None) -> str:
        """The text of `study.toml`, or of another definition beside it.

        Raises:
            StudyMissing: it is not there or cannot be read.
            DefinitionError: it is not a text of sensible size.
        """
        file = self.path / (name or DEFINITION)
        try:
            if not file.is_file() and file.exists():
                raise StudyMissing(f"{file}: expected a file, not a folder, pipe or device")
            with file.open("rb") as opened:
                raw = opened.read(MAX_DEFINITION_BYTES + 1)
            if len(raw) > MAX_DEFINITION_BYTES:
                raise DefinitionError(f"{file}: too large for a study's definition")
            return raw.decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n")
        except UnicodeDecodeError as error:
            raise DefinitionError(f"{file}: expected UTF-8 text ({error})") from None
        except OSError as error:
            raise StudyMissing(f"{file}: cannot be read ({error.strerror})") from None

    def create(self, text: str) -> None:
        """Make the folder with a first definition.

        Raises:
            StudyMissing: a study stands there already.
            LedgerUnwritable: the disk refused.
        """
        if self.definition.exists() or self.ledger.exists():
            raise StudyMissing(f"{self.path}: holds a study already, expected a new place")
        try:
            self.path.mkdir(parents=True, exist_ok=True)
            replace_synced(self.definition, text.encode())
            sync_folder(self.path.parent)
        except OSError as error:
            raise LedgerUnwritable(f"{self.path}: cannot be written ({error.strerror})") from None

    def write_definition(self, text: str) -> None:
        """Replace the definition as a whole.

        Raises:
            LedgerUnwritable: the disk refused; the one before still stands.
        """
        try:
            replace_synced(self.definition, text.encode())
        except OSError as error:
            raise LedgerUnwritable(
                f"{self.definition}: cannot be written ({error.strerror})"
            ) from None

    def refuse_traps(self) -> None:
        """Refuse a folder whose files are others in disguise; a stranger may have made it.

        Raises:
            InputError: a file of the study leads out of the folder, or is a pipe or a device.
        """
        try:
            entries = [e for e in os.scandir(self.path) if e.name.startswith(_OURS)]
        except OSError:
            return  # there is no such folder, which others say better
        home = self.path.resolve()
        for entry in entries:
            if entry.is_symlink() and not Path(entry.path).resolve().is_relative_to(home):
                raise InputError(
                    f"{entry.path}: leads out of the study's folder, expected a file in it"
                )
            if os.path.exists(entry.path) and not (entry.is_file() or entry.is_dir()):
                raise InputError(f"{entry.path}: expected a file, not a pipe or device")

    def require(self) -> None:
        """Raises StudyMissing unless a study stands there."""
        if not self.path.is_dir():
            raise StudyMissing(f"{self.path}: no study there (no such folder)")
        if not self.definition.exists() and not self.ledger.exists():
            raise StudyMissing(f"{self.path}: no study there (neither {DEFINITION} nor {LEDGER})")
