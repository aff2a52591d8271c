"""Ledgers cut at every byte, power cuts with loose blocks, and disks that refuse."""

import errno
import os
import subprocess
import sys
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[3]
sys.path.insert(0, str(ROOT))  # the tests' disk that remembers every call is used here too

from planner import Study  # noqa: E402
from planner.errors import LedgerUnwritable, PlannerError  # noqa: E402
from planner.store import FileLedger  # noqa: E402
from tests.store.power_cuts import after_cuts, recorded  # noqa: E402


@dataclass
class States:
    """What was seen."""

    states: int = 0
    opened: int = 0
    wrong: int = 0
    """States that opened with an entry missing that was confirmed, or with one made up."""


def cut_everywhere(folder: Path) -> States:
    """A study's ledger cut at every byte: it opens with all whole entries, and goes on."""
    study = Study.create(
        {"knob": [{"name": "clock", "low": 1, "high": 9, "step": 1, "stock": 1}]}, folder / "s"
    )
    for outcome in ("pass", "crash", "pass"):
        study.next()
        study.record(outcome, note="cut")
    whole = (folder / "s" / "ledger.jsonl").read_bytes()
    meant = study._place.ledger.read()
    cut, tally = folder / "cut.jsonl", States()
    for size in range(len(whole)):
        cut.write_bytes(whole[:size])
        tally.states += 1
        found = FileLedger(cut).read()
        tally.opened += 1
        tally.wrong += list(found) != list(meant[: whole[:size].count(b"\n")])
    return tally


def cut_power(folder: Path, tries: int) -> States:
    """Every call to the disk, with its unsynced blocks kept, dropped and reordered."""
    tally = States()
    for block in (64, 512, 4096):
        disk = recorded(folder / f"{block}.jsonl", 8)
        meant = list(FileLedger(disk.path).read())
        for data, confirmed in after_cuts(disk, block, tries, seed=block):
            (folder / "cut.jsonl").write_bytes(data)
            tally.states += 1
            with suppress(PlannerError):
                found = list(FileLedger(folder / "cut.jsonl").read())
                tally.opened += 1
                tally.wrong += found not in (meant[:confirmed], meant[: confirmed + 1])
    return tally


def fill_disk(folder: Path) -> str:
    """A real file system of 256 kB, filled to the brim, emptied, made read-only."""
    small = folder / "small"
    small.mkdir()
    mounted = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=256k", "tmpfs", str(small)], capture_output=True
    )
    if mounted.returncode != 0:
        return "not shown: this user may not mount a file system"
    try:
        return _fill(small)
    finally:
        subprocess.run(["umount", str(small)], check=True)


def _fill(small: Path) -> str:
    study = Study.create(
        {"knob": [{"name": "clock", "low": 1, "high": 9, "step": 1, "stock": 1}]}, small / "s"
    )
    ballast = small / "ballast"
    confirmed, refused = 0, 0
    ballast.write_bytes(b"x" * 150_000)
    while refused < 3:
        try:
            study.record("pass", settings={}, note="y" * 900)
            confirmed += 1
        except LedgerUnwritable:
            refused += 1
    assert len(Study.open(small / "s").history.runs) == confirmed
    ballast.unlink()
    Study.open(small / "s").record("pass", settings={})
    subprocess.run(["mount", "-o", "remount,ro", str(small)], check=True)
    try:
        Study.open(small / "s").record("pass", settings={})
        return "WRONG: a read-only disk took an entry"
    except LedgerUnwritable as error:
        if os.strerror(errno.EROFS) not in str(error):
            return f"WRONG: the reason is not named: {error}"
    assert len(Study.open(small / "s").history.runs) == confirmed + 1
    return f"{confirmed} confirmed until it was full, all there, 1 more with space, then read-only"
