"""`store.toml` beside a study: where this machine keeps its ledger.

It is not part of the definition, since every bench has its own disks.
"""

import tomllib
from dataclasses import dataclass
from pathlib import Path

from planner.domain.table import Table
from planner.errors import DefinitionError, LedgerUnwritable
from planner.store.disk import replace_synced

FILE = "store.toml"
_LARGEST = 100_000


@dataclass(frozen=True, slots=True)
class StoreSettings:
    """What `store.toml` says."""

    mirror: str = ""
    """Folder, on another disk, for a second copy of the ledger; a whole path, or from `~`."""

    def mirror_file(self, study: Path) -> Path | None:
        """The file that holds the second copy; None: none is kept."""
        if not self.mirror:
            return None
        return Path(self.mirror).expanduser() / f"{study.resolve().name}.jsonl"


def store_settings(study: Path) -> StoreSettings:
    """What the `store.toml` of a study's folder says; nothing where there is none.

    Raises:
        DefinitionError: it cannot be read, or a key or value that cannot be.
    """
    file = study / FILE
    try:
        with file.open("rb") as opened:
            raw = opened.read(_LARGEST)
    except (FileNotFoundError, NotADirectoryError):
        return StoreSettings()
    except OSError as error:
        raise DefinitionError(f"{file}: cannot be read ({error.strerror})") from None
    try:
        table = Table(tomllib.loads(raw.decode("utf-8-sig")), FILE)
    except (ValueError, RecursionError) as error:
        raise DefinitionError(f"{file}: not readable as TOML: {error}") from None
    settings = StoreSettings(table.text_or("mirror", at_most=1000))
    table.done()
    if settings.mirror and not Path(settings.mirror).expanduser().is_absolute():
        raise table.fail("mirror", settings.mirror, "the whole path of a folder, as /mnt/stick")
    return settings


def set_mirror(study: Path, mirror: str) -> None:
    """Write the folder for the second copy into `store.toml`; empty: none. All else stays.

    Raises:
        DefinitionError: what stands there cannot be read.
        LedgerUnwritable: the disk refused.
    """
    import tomlkit  # takes 30 ms to load, and only this needs it

    file = study / FILE
    store_settings(study)
    try:
        document = tomlkit.parse(file.read_text("utf-8-sig") if file.exists() else "")
        document.pop("mirror", None)
        if mirror:
            document.add("mirror", tomlkit.item(mirror))
        if document or file.exists():
            replace_synced(file, tomlkit.dumps(document).encode())
    except OSError as error:
        raise LedgerUnwritable(f"{file}: cannot be written ({error.strerror})") from None
