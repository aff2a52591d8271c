"""Opens the place that a study is kept in, by name."""

import os
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from planner.errors import DefinitionError, InputError
from planner.store.file import FileLedger
from planner.store.folder import StudyFolder
from planner.store.heads import ChainedLedger
from planner.store.memory import MemoryLedger
from planner.store.mirror import Mirror

MEMORY = "memory"


@dataclass(frozen=True, slots=True)
class Place:
    """Where a study is kept."""

    ledger: ChainedLedger
    read_definition: Callable[[], str] | None
    """Gives the text that the person edits; None where there is no such file."""

    @property
    def on_disk(self) -> bool:
        """Whether it outlives the process."""
        return self.read_definition is not None

    @property
    def warning(self) -> str | None:
        """What a person should be told of the ledger; None: nothing."""
        return self.ledger.warning if isinstance(self.ledger, FileLedger) else None


def new_place(place: str | os.PathLike[str], text: str) -> Place:
    """A new place that begins with the definition `text`.

    Raises:
        StudyMissing: a study stands there already.
        LedgerUnwritable: the disk refused.
    """
    if place == MEMORY:
        return Place(MemoryLedger(), None)
    folder = StudyFolder(_path(place))
    folder.create(text)
    return Place(FileLedger(folder.ledger), folder.read_definition)


def open_place(place: str | os.PathLike[str], mirror: os.PathLike[str] | None = None) -> Place:
    """The place where a study stands; `mirror`: the file that holds a second copy of its ledger.

    Raises:
        StudyMissing: there is none.
    """
    folder = StudyFolder(_path(place))
    folder.require()
    ledger = FileLedger(folder.ledger, mirror=Mirror(Path(mirror)) if mirror else None)
    return Place(ledger, folder.read_definition)


def definition_text(definition: Mapping[str, Any] | str | os.PathLike[str]) -> str:
    """The TOML text of a definition given as tables, or as the path of its file.

    Raises:
        DefinitionError: tables that TOML cannot hold.
        StudyMissing: no such file.
    """
    if not isinstance(definition, Mapping):
        path = Path(definition)
        return StudyFolder(path if path.is_dir() else path.parent).read_definition(
            None if path.is_dir() else path.name
        )
    import tomlkit  # takes 30 ms to load, and only a new study needs it

    try:
        return tomlkit.dumps(_plain(definition, "definition"))
    except (TypeError, ValueError, RecursionError) as error:
        raise DefinitionError(f"definition: cannot be written as TOML: {error}") from None


def _plain(value: Any, where: str) -> Any:
    """Tables, lists and numbers of any make (numpy's too) as the plain ones that TOML knows."""
    if isinstance(value, Mapping):
        return {str(k): _plain(v, f"{where}: {k}") for k, v in value.items() if v is not None}
    if isinstance(value, (list, tuple)):
        return [_plain(v, where) for v in value]
    if isinstance(value, (bool, str)):
        return str(value) if isinstance(value, str) else bool(value)
    if hasattr(value, "item"):
        value = value.item()
    if isinstance(value, (int, float)):
        return value
    raise DefinitionError(f"{where} = {value!r}: expected tables, lists, numbers and texts")


def _path(place: str | os.PathLike[str]) -> Path:
    if "://" in str(place):
        raise InputError(f"store = {place!s}: expected 'memory' or a folder")
    return Path(place)
