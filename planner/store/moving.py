"""Moves a study between its folder and a server: the same lines, verified before the old go.

Nothing is deleted: what is left behind keeps its lines under another name.
"""

from datetime import UTC, datetime
from itertools import count
from pathlib import Path

from planner.errors import InputError, LedgerDamaged, LedgerUnwritable, StudyMissing
from planner.store.address import Address
from planner.store.disk import locked, replace_synced, sync_folder, whole_lines
from planner.store.file import FileLedger
from planner.store.folder import StudyFolder
from planner.store.known import remember, require_known
from planner.store.server import ServerLedger
from planner.store.settings import FILE, refuse_password, store_settings, write_store

_TIMEOUT_S = 5.0


def move_to_server(folder: Path, address: Address) -> Path:
    """Move the ledger of a study's folder to a server; where the old file is now.

    Repeated after it was cut off, it goes on.

    Raises:
        InputError: the address holds a password, or the study stands on a server already.
        StudyMissing: no study in the folder, or another one at the address.
        LedgerDamaged: the ledger does not verify; nothing was moved.
        LedgerBusy: another program holds the ledger.
        LedgerUnwritable: the disk or the server refused.
    """
    refuse_password(address)
    if (there := store_settings(folder).server) is not None and there != address:
        raise InputError(f"{folder}: stands on {there} already; move it to its folder first")
    study = StudyFolder(folder)
    if not study.ledger.exists():
        raise StudyMissing(f"{folder}: there is no {study.ledger.name} to move")
    with locked(study.ledger, _TIMEOUT_S):
        FileLedger(study.ledger).read()  # refuses a damaged one
        lines = whole_lines(study.ledger)
        server = ServerLedger(address)
        server.bring(lines)
        _compare(server.lines(), lines, str(address))
        remember(address)
        write_store(folder, address)
        aside = _free(study.ledger)
        _rename(study.ledger, aside)
    return aside


def move_to_folder(folder: Path) -> str:
    """Move a study from its server into its folder; its new name on the server.

    A damaged one is moved as it is, to be repaired there. Repeated after it was cut off, it goes
    on.

    Raises:
        InputError: the study does not stand on a server, or on one that was never named here.
        StudyMissing: there is no such study on the server.
        LedgerDamaged: the file does not give back what was written; nothing was moved.
        LedgerUnwritable: the disk or the server refused.
    """
    address = store_settings(folder).server
    if address is None:
        raise InputError(f"{folder}: has no {FILE}, so the study stands in its folder already")
    require_known(address, str(folder / FILE))
    file = StudyFolder(folder).ledger
    moved = datetime.now(UTC).strftime("moved %Y-%m-%d %H.%M.%S")
    renamed = f"{address.study} {moved}"

    def keep(lines: list[bytes]) -> None:
        if lines:
            _write_ledger(file, lines)
        elif not file.exists():
            raise StudyMissing(f"{address}: holds no study of that name, or it was moved away")

    with locked(file, _TIMEOUT_S):
        ServerLedger(address).take_away(keep, renamed)
        write_store(folder, None)
    return renamed


def _write_ledger(file: Path, lines: list[bytes]) -> None:
    """Write the lines as a ledger file and read them back."""
    if file.exists() and not b"".join(lines).startswith(file.read_bytes()):
        raise StudyMissing(f"{file}: there is another ledger; move it away first")
    try:
        replace_synced(file, b"".join(lines))
    except OSError as error:
        raise LedgerUnwritable(f"{file}: cannot be written ({error.strerror})") from None
    _compare(whole_lines(file), lines, str(file))


def _compare(there: list[bytes], lines: list[bytes], place: str) -> None:
    if there != lines:
        raise LedgerDamaged(f"{place}: does not give back what was written there; nothing moved")


def _free(file: Path) -> Path:
    names = (file.with_name(f"{file.stem}.moved-{number}{file.suffix}") for number in count(1))
    return next(name for name in names if not name.exists())


def _rename(file: Path, to: Path) -> None:
    try:
        file.rename(to)
        sync_folder(file.parent)
    except OSError as error:
        raise LedgerUnwritable(f"{file}: cannot be renamed ({error.strerror})") from None
