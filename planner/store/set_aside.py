"""The way out of a damaged ledger: the spoilt lines are named in a note, nothing is rewritten."""

from contextlib import AbstractContextManager
from datetime import UTC, datetime
from io import FileIO
from pathlib import Path
from uuid import uuid4

from planner.domain.event import Event, Kind
from planner.errors import LedgerDamaged, StudyMissing
from planner.store.disk import copy_aside, locked, opened
from planner.store.folder import StudyFolder
from planner.store.lines import encode
from planner.store.scan import SET_ASIDE, Flaw, Scan, name_flaws
from planner.store.tape import Tape


def repair(path: Path, bench: str = "repair", timeout: float = 5.0) -> Event | None:
    """Make a damaged ledger readable again and return the note that says how.

    The file is first copied to `<name>.damaged-N`. Then a note is appended that names the flawed
    lines by number and SHA-256; readers leave out exactly those. None if nothing was damaged.

    Raises:
        LedgerDamaged: no line verifies, so there is nothing to keep.
        LedgerTooNew: a line was written by a newer planner.
        LedgerBusy: another program holds the ledger.
        LedgerUnwritable: the disk refused.
        StudyMissing: the folder or the file is not there.
        InputError: a file of the folder is another in disguise.
    """
    StudyFolder(path.parent).refuse_traps()
    with locked(path, timeout), _opened_if_there(path) as file:
        tape = Tape(path)
        tape.catch_up(file)
        if not (flaws := tape.scan.open_flaws()):
            return None
        if tape.scan.head.seq == 0:
            raise LedgerDamaged(
                f"not one line of {path} verifies ({name_flaws(flaws)}): put a sound copy back"
            )
        copy_aside(path)
        note = _note(tape.scan, flaws, bench)
        line = encode(note, tape.scan.head.chain)
        tape.cut_tail(file)
        tape.write(file, line)
        return note


def set_tail_aside(path: Path, timeout: float = 5.0) -> int:
    """Move a torn last line to `<name>.torn` now, as the next entry would; its bytes, 0: none.

    Raises:
        LedgerBusy: another program holds the ledger.
        LedgerUnwritable: the disk refused.
        StudyMissing: the folder or the file is not there.
    """
    with locked(path, timeout), _opened_if_there(path) as file:
        tape = Tape(path)
        tape.catch_up(file)
        size = len(tape.tail)
        tape.cut_tail(file)
        return size


def _opened_if_there(path: Path) -> AbstractContextManager[FileIO]:
    if not path.exists():
        raise StudyMissing(f"there is no ledger {path} to repair")
    return opened(path)


def _note(scan: Scan, flaws: list[Flaw], bench: str) -> Event:
    listed = [
        {"line": flaw.line, "sha256": flaw.sha256, "prev": flaw.prev, "what": flaw.what}
        for flaw in flaws
    ]
    return Event(
        # Lines left out at the end were entries once: their numbers are not given to others.
        seq=scan.head.seq + scan.gap + 1,
        time=datetime.now(UTC).isoformat(timespec="seconds"),
        bench=bench,
        id=uuid4().hex,
        kind=Kind.NOTE,
        body={"text": f"repaired: {name_flaws(flaws)}", SET_ASIDE: listed},
    )
