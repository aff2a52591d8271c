"""Opens the place that a study is kept in, by name."""

import os
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from planner.errors import DefinitionError, StudyMissing
from planner.store.address import Address, is_address, parse_address
from planner.store.file import FileLedger
from planner.store.folder import StudyFolder
from planner.store.heads import ChainedLedger
from planner.store.known import require_known
from planner.store.memory import MemoryLedger
from planner.store.mirror import Mirror, mirror_ledger
from planner.store.server import ServerLedger
from planner.store.settings import FILE, store_settings

MEMORY = "memory"


@dataclass(frozen=True, slots=True)
class Place:
    """Where a study is kept."""

    ledger: ChainedLedger
    read_definition: Callable[[], str] | None
    """Gives the text that the person edits; None where there is no such file."""
    write_definition: Callable[[str], None] | None = None
    """Brings that file up to date; None where no other bench has one of its own."""

    def edited(self, told: Sequence[str]) -> str | None:
        """The definition that the person has edited since the last one told; None: nothing new.

        Nothing told yet is a study that is about to begin, which a server's did long ago. Where
        other benches have a file of their own, one that says what was told earlier is out of
        date, not edited: it is brought up to date.

        Raises:
            StudyMissing: it cannot be read, or there is no study on the server.
            DefinitionError: it is not a text of sensible size.
            LedgerUnwritable: it cannot be brought up to date.
        """
        if not told and isinstance(self.ledger, ServerLedger):
            raise StudyMissing(
                f"{self.ledger.address}: holds no study of that name, or it was moved away"
            )
        text = None if self.read_definition is None else self.read_definition()
        if text is None or (told and text == told[-1]):
            return None
        if self.write_definition is not None and text in told:
            self.write_definition(told[-1])
            return None
        return text

    @property
    def lasting(self) -> bool:
        """Whether it outlives the process."""
        return not isinstance(self.ledger, MemoryLedger)

    @property
    def warning(self) -> str | None:
        """What a person should be told of the ledger; None: nothing."""
        ledger = self.ledger
        return ledger.warning if isinstance(ledger, FileLedger | ServerLedger) else None

    def age_s(self, seq: int) -> float | None:
        """Seconds since an entry was written, by a clock that all benches share; None: unknown."""
        return self.ledger.age_s(seq) if isinstance(self.ledger, ServerLedger) else None


def begin_mirror(folder: Path, mirror: Path) -> None:
    """Copy what the ledger of a study's folder holds already, wherever it stands, to `mirror`.

    Raises:
        LedgerBusy: another program holds one of the two.
        LedgerDamaged: the copy that stands there is ahead, or of another ledger.
        LedgerUnwritable: the disk or the server refused, or the copy does not read back.
    """
    if (server := store_settings(folder).server) is None:
        mirror_ledger(StudyFolder(folder).ledger, mirror)
    else:
        ServerLedger(server).begin_mirror(Mirror(mirror))


def new_place(place: str | os.PathLike[str], text: str) -> Place:
    """A new place that begins with the definition `text`.

    Raises:
        InputError: an address that cannot be.
        StudyMissing: a study stands there already.
        LedgerUnwritable: the disk or the server refused.
    """
    if place == MEMORY:
        return Place(MemoryLedger(), None)
    if is_address(place):
        return Place(_empty(parse_address(str(place))), None)
    folder = StudyFolder(Path(place))
    folder.create(text)
    return Place(FileLedger(folder.ledger), folder.read_definition)


def open_place(place: str | os.PathLike[str], mirror: os.PathLike[str] | None = None) -> Place:
    """The place where a study stands; `mirror`: the file that holds a second copy of its ledger.

    Raises:
        InputError: an address that cannot be, or one in a folder's `store.toml` that the person
            never named; a file of the folder that leads out of it.
        StudyMissing: there is no such folder, or nothing in it.
    """
    copy = Mirror(Path(mirror)) if mirror else None
    if is_address(place):
        return Place(ServerLedger(parse_address(str(place)), mirror=copy), None)
    folder = StudyFolder(Path(place))
    if (server := store_settings(folder.path).server) is None:
        folder.require()
        return Place(FileLedger(folder.ledger, mirror=copy), folder.read_definition)
    require_known(server, str(folder.path / FILE))
    own = folder.definition.exists()
    return Place(
        ServerLedger(server, mirror=copy),
        folder.read_definition if own else None,
        folder.write_definition if own else None,
    )


def _empty(address: Address) -> ServerLedger:
    ledger = ServerLedger(address)
    if ledger.read():
        raise StudyMissing(f"{address}: holds a study already, expected a new name")
    return ledger


def definition_text(definition: Mapping[str, Any] | str | os.PathLike[str]) -> str:
    """The TOML text of a definition given as tables, or as the path of its file.

    Raises:
        DefinitionError: tables that TOML cannot hold, or the text itself.
        StudyMissing: no such file.
    """
    if isinstance(definition, str) and "\n" in definition:
        raise DefinitionError(
            "definition: got TOML text, expected its tables or the path of its file;"
            " tomllib.loads(text) makes tables of it"
        )
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
