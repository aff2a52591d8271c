"""`store.toml` beside a study: where this machine keeps its ledger.

It is not part of the definition, since every bench has its own disks and its own way to a server.
"""

import tomllib
from dataclasses import dataclass
from pathlib import Path

from planner.domain.table import Table
from planner.errors import DefinitionError, InputError, LedgerUnwritable
from planner.store.address import EXAMPLE, Address, parse_address
from planner.store.disk import replace_synced
from planner.store.folder import StudyFolder

FILE = "store.toml"
_LARGEST = 100_000


@dataclass(frozen=True, slots=True)
class StoreSettings:
    """What `store.toml` says."""

    mirror: str = ""
    """Folder, on another disk, for a second copy of the ledger; a whole path, or from `~`."""
    server: Address | None = None
    """The server that holds the ledger; None: it stands in the study's folder."""

    def mirror_file(self, study: Path) -> Path | None:
        """The file that holds the second copy; None: none is kept."""
        if not self.mirror:
            return None
        return Path(self.mirror).expanduser() / f"{study.resolve().name}.jsonl"


def store_settings(study: Path) -> StoreSettings:
    """What the `store.toml` of a study's folder says; nothing where there is none.

    Raises:
        DefinitionError: it cannot be read, or a key or value that cannot be.
        InputError: the server's address cannot be, or holds a password; a file of the folder is
            another in disguise.
    """
    StudyFolder(study).refuse_traps()
    file = study / FILE
    try:
        with file.open("rb") as opened:
            raw = opened.read(_LARGEST)
    except (FileNotFoundError, NotADirectoryError):
        return StoreSettings()
    except OSError as error:
        raise DefinitionError(f"{file}: cannot be read ({error.strerror})") from None
    try:
        table = Table(tomllib.loads(raw.decode("utf-8-sig")), str(file))
    except (ValueError, RecursionError) as error:
        raise DefinitionError(f"{file}: not readable as TOML: {error}") from None
    mirror, server = table.text_or("mirror", at_most=1000), table.take("store")
    table.done()
    if mirror and not Path(mirror).expanduser().is_absolute():
        raise table.fail("mirror", mirror, "the whole path of a folder, as /mnt/stick")
    return StoreSettings(mirror, None if server is None else _address(server, file))


def _address(written: object, file: Path) -> Address:
    if not isinstance(written, str):
        raise DefinitionError(f"{file}: store: expected a text, as {EXAMPLE!r}")
    try:
        address = parse_address(written)
        refuse_password(address)
    except InputError as error:
        raise InputError(f"{file}: {error}") from None
    return address


def set_mirror(study: Path, mirror: str) -> None:
    """Write the folder for the second copy into `store.toml`; empty: none. All else stays.

    Raises:
        DefinitionError: what stands there cannot be read.
        LedgerUnwritable: the disk refused.
    """
    _set(study, "mirror", mirror)


def write_store(study: Path, address: Address | None) -> None:
    """Write the server into `store.toml`; None: there is none any more. All else stays.

    Raises:
        InputError: the address holds a password, which no file is to keep.
        DefinitionError: what stands there cannot be read.
        LedgerUnwritable: the disk refused.
    """
    if address is not None:
        refuse_password(address)
    _set(study, "store", "" if address is None else address.shown)


def _set(study: Path, key: str, value: str) -> None:
    import tomlkit  # takes 30 ms to load, and only this needs it

    file = study / FILE
    store_settings(study)
    try:
        document = tomlkit.parse(file.read_text("utf-8-sig") if file.exists() else "")
        document.pop(key, None)
        if value:
            document.add(key, tomlkit.item(value))
        if document or (key != "store" and file.exists()):
            replace_synced(file, tomlkit.dumps(document).encode())
        else:  # a study in its folder needs none
            file.unlink(missing_ok=True)
    except OSError as error:
        raise LedgerUnwritable(f"{file}: cannot be written ({error.strerror})") from None


def refuse_password(address: Address) -> None:
    """Raises InputError for an address that would carry a password into a file or a shell."""
    if address.password:
        raise InputError(
            f"store = {address}: leave the password out of the address; it is taken from"
            " PGPASSWORD, or from PostgreSQL's password file"
        )
