"""Mending a ledger from its mirror: the lines that the mirror has whole.

On a server only an end that was lost is put back, as where a copy of yesterday was played in.
"""

from collections.abc import Iterable
from pathlib import Path

from planner.store.disk import copy_aside, locked, refused, replace_synced, whole_lines
from planner.store.scan import Scan
from planner.store.server import ServerLedger


def take_back(path: Path, mirror: Path, timeout: float = 5.0) -> bool:
    """Put back what the mirror has whole and the ledger has not; whether that mended anything.

    What stood there is first copied to `<name>.damaged-N`.

    Raises:
        LedgerBusy: another program holds the ledger.
        LedgerUnwritable: the disk refused.
    """
    if not mirror.exists():
        return False
    with locked(path, timeout):
        whole = taken_back(path, mirror)
        if whole is None:
            return False
        if path.exists():
            copy_aside(path)
        put_in_place(path, whole)
        return True


def give_back(ledger: ServerLedger, mirror: Path) -> int:
    """Put the entries back with which the mirror goes on where a server's ledger ends; how many.

    The ledger was read before.
    0 where there are none, where the two differ before, or where nothing at all stands there:
    that study was moved away.

    Raises:
        LedgerConflict: another bench wrote on meanwhile.
        LedgerDamaged: what stands there does not verify.
        LedgerUnwritable: the server is out of reach, or refused.
    """
    lines, own = whole_lines(mirror) if mirror.exists() else [], ledger.lines()
    if not own or lines[: len(own)] != own or scan_of(lines).open_flaws():
        return 0
    for line in lines[len(own) :]:
        ledger.put(line.removesuffix(b"\n"))
    return len(lines) - len(own)


def taken_back(path: Path, mirror: Path) -> bytes | None:
    """The ledger's bytes with what the mirror has of them; None where that mends nothing.

    The mirror's lines stand in for the ledger's own, then come those that it has not yet.
    """
    lines, own = whole_lines(mirror), whole_lines(path) if path.exists() else []
    copied, before = scan_of(lines), scan_of(own)
    if copied.open_flaws() or not copied.head.seq:
        return None
    whole = lines + own[len(lines) :]
    after = scan_of(whole)
    if before.head.seq and not _related(before, copied):
        return None
    mended = bool(before.open_flaws()) or before.head.seq < after.head.seq
    kept = before.head.seq <= after.head.seq
    return b"".join(whole) if mended and kept and not after.open_flaws() else None


def _related(one: Scan, other: Scan) -> bool:
    """Whether both hold an entry with the same chain: then all before it was the same, too."""
    shared = range(1, min(one.head.seq, other.head.seq) + 1)
    return any(one.chain_at(n) == other.chain_at(n) is not None for n in shared)


def put_in_place(path: Path, data: bytes) -> None:
    """Have `data` on the disk in the place of the ledger, as a whole or not at all.

    Raises:
        LedgerUnwritable: the disk refused; the ledger is as it was.
    """
    try:
        replace_synced(path, data)
    except OSError as error:
        raise refused(path, "could not be put in place", error) from error


def scan_of(lines: Iterable[bytes]) -> Scan:
    """The entries of lines that are given with their line feeds."""
    scan = Scan()
    scan.take(line.removesuffix(b"\n") for line in lines)
    return scan
