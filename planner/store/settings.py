"""`store.toml` beside a study: where this machine keeps its ledger.

It is not part of the definition, since every bench has its own disks and its own way to a server.
"""

import os
import tomllib
from dataclasses import dataclass
from pathlib import Path

from planner.domain.table import Table
from planner.errors import DefinitionError, InputError, LedgerUnwritable
from planner.store.address import EXAMPLE, Address, parse_address
from planner.store.folder import StudyFolder

FILE = "store.toml"
_LARGEST = 100_000


@dataclass(frozen=True, slots=True)
class StoreSettings:
    """What `store.toml` says."""

    server: Address | None = None
    """The server that holds the ledger; None: it stands in the study's folder."""


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
    server = table.take("store")
    table.done()
    return StoreSettings(None if server is None else _address(server, file))


def _address(written: object, file: Path) -> Address:
    if not isinstance(written, str):
        raise DefinitionError(f"{file}: store: expected a text, as {EXAMPLE!r}")
    try:
        address = parse_address(written)
        refuse_password(address)
    except InputError as error:
        raise InputError(f"{file}: {error}") from None
    return address


def write_store(study: Path, address: Address) -> None:
    """Write the `store.toml` of a study that stands on a server; whole or not at all.

    Raises:
        InputError: the address holds a password, which no file is to keep.
        LedgerUnwritable: the disk refused.
    """
    refuse_password(address)
    file, part = study / FILE, study / f"{FILE}.part"
    text = f"# Where the ledger of this study stands: docs/store.md.\nstore = {address.shown!r}\n"
    try:
        with part.open("w", encoding="utf-8", newline="\n") as opened:
            opened.write(text)
            opened.flush()
            os.fsync(opened.fileno())
        part.replace(file)
    except OSError as error:
        raise LedgerUnwritable(f"{file}: cannot be written ({error.strerror})") from None


def refuse_password(address: Address) -> None:
    """Raises InputError for an address that would carry a password into a file or a shell."""
    if address.password:
        raise InputError(
            f"store = {address}: leave the password out of the address; it is taken from"
            " PGPASSWORD, or from PostgreSQL's password file"
        )
