"""`store.toml` beside a study: where this machine keeps its ledger.

It is not part of the definition, since every bench has its own disks and its own way to a server.
"""

import tomllib
from dataclasses import dataclass
from pathlib import Path

from planner.domain.table import Table
from planner.errors import DefinitionError

FILE = "store.toml"
_LARGEST = 100_000


@dataclass(frozen=True, slots=True)
class StoreSettings:
    """What `store.toml` says."""

    mirror: str = ""
    """Folder, on another disk, for a second copy of the ledger."""

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
    return settings
