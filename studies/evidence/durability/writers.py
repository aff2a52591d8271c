"""Several processes that append to one ledger at once."""

import multiprocessing
import time
from dataclasses import dataclass
from pathlib import Path

from planner.domain.event import Event, Kind
from planner.errors import LedgerConflict
from planner.store import FileLedger


@dataclass
class Shared:
    """What was seen."""

    writers: int
    entries: int
    seconds: float
    lost: int
    doubled: int


def write_together(path: Path, writers: int, entries: int) -> Shared:
    """Let `writers` processes append `entries` in all."""
    start = multiprocessing.get_context("spawn")
    each = entries // writers
    workers = [start.Process(target=_write, args=(path, n, each)) for n in range(writers)]
    begun = time.monotonic()
    for worker in workers:
        worker.start()
    for worker in workers:
        worker.join()
    seconds = time.monotonic() - begun
    found = [event.id for event in FileLedger(path).read()]
    meant = {f"{n}-{i}" for n in range(writers) for i in range(each)}
    lost, doubled = len(meant - set(found)), len(found) - len(set(found))
    return Shared(writers, len(meant), seconds, lost, doubled)


def _write(path: Path, name: int, count: int) -> None:
    ledger = FileLedger(path, timeout=60)
    for number in range(count):
        token = f"{name}-{number}"
        while True:
            try:
                ledger.append(_event(ledger.head.seq + 1, token))
                break
            except LedgerConflict:
                continue


def _event(seq: int, token: str) -> Event:
    return Event(seq, "2026-01-02T20:30:00Z", "bench", token, Kind.NOTE, {"text": "x" * 200})
