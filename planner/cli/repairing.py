"""What `planner check --repair` does, wherever the ledger stands."""

from pathlib import Path
from shlex import quote

from planner.bench import bench_name
from planner.cli.studies import LEDGER, mirror_of, studies_home
from planner.errors import LedgerDamaged
from planner.report.text.phrases import counted
from planner.store import (
    Address,
    ServerLedger,
    give_back,
    repair,
    set_tail_aside,
    store_settings,
    take_back,
)


def repair_ledger(folder: Path) -> str | None:
    """Mend the ledger of a study, from its mirror if that can; what was done, or None.

    Raises:
        LedgerDamaged: nothing to keep; or it stands on a server, where no line is set aside.
        LedgerError: the disk or the server refused.
        StudyMissing: there is no ledger.
    """
    mirror = mirror_of(folder)
    if (server := store_settings(folder).server) is not None:
        return _put_back(server, mirror, folder)
    if mirror is not None and take_back(folder / LEDGER, mirror):
        return f"repaired: what was spoilt or lost was taken back from {mirror}"
    if (note := repair(folder / LEDGER, bench_name())) is not None:
        return str(note.body["text"])
    if size := set_tail_aside(folder / LEDGER):
        return f"a torn last line ({size} bytes, never confirmed) was set aside in {LEDGER}.torn"
    return None


def _put_back(server: Address, mirror: Path | None, folder: Path) -> str | None:
    """A lost end comes back from the mirror. Spoilt lines are mended in a file alone."""
    ledger = ServerLedger(server)
    try:
        ledger.read()
        count = give_back(ledger, mirror) if mirror is not None else 0
    except LedgerDamaged as error:
        name = quote(folder.name if folder.parent == studies_home() else str(folder))
        raise LedgerDamaged(
            f"{error}: lines are not mended on a server, so bring them here, repair the file, and"
            f" move it back: planner move {name} folder; planner check {name} --repair;"
            f" planner move {name} '{server}'"
        ) from None
    if not count:
        return None
    return f"repaired: {counted(count, 'entry', 'entries')} put back from {mirror}"
