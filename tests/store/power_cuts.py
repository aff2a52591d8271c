"""A disk that remembers every call, and the states in which a power cut can leave it.

What was written since the last sync may be there or not, block by block, in any order; blocks
that did not come leave zeros, or what stood there (as SQLite's own crash tests assume, and as
seen of file systems by Pillai and others, OSDI 2014). A block is whole or not there at all.
"""

import os
import random
from collections.abc import Iterator
from dataclasses import dataclass, field
from io import FileIO
from pathlib import Path

import pytest

from planner.store import FileLedger
from tests.store.makers import event, filled


@dataclass
class Disk:
    """What reached the disk for certain, and what may have since."""

    path: Path
    synced: bytes = b""
    loose: list[tuple[int, bytes]] = field(default_factory=list)
    """Writes since, by offset; a truncation is an offset and no bytes."""
    states: list[tuple[bytes, list[tuple[int, bytes]], int]] = field(default_factory=list)
    """At every call: what was synced, what was loose, how many entries were confirmed."""
    confirmed: int = 0

    def note(self) -> None:
        """Remember the present state."""
        self.states.append((self.synced, list(self.loose), self.confirmed))

    def watch(self, patch: pytest.MonkeyPatch) -> None:
        """Stand between the store and the system."""
        disk, write, fsync = self, os.write, os.fsync

        class Watched(FileIO):
            def truncate(self, size: int | None = None) -> int:
                if Path(os.fsdecode(self.name)) == disk.path:
                    disk.loose.append((int(size or 0), b""))
                    disk.note()
                return super().truncate(size)

        def watched_write(descriptor: int, data: bytes) -> int:
            ours = disk.is_ours(descriptor)
            offset = os.fstat(descriptor).st_size
            done = write(descriptor, data)
            if ours:
                disk.loose.append((offset, bytes(data[:done])))
                disk.note()
            return done

        def watched_fsync(descriptor: int) -> None:
            fsync(descriptor)
            if disk.is_ours(descriptor):
                disk.synced, disk.loose = disk.path.read_bytes(), []
                disk.note()

        patch.setattr(os, "write", watched_write)
        patch.setattr(os, "fsync", watched_fsync)
        patch.setattr("planner.store.disk.FileIO", Watched)

    def is_ours(self, descriptor: int) -> bool:
        """Whether a descriptor is of the file that is watched."""
        if not self.path.exists():
            return False
        return os.path.samestat(os.fstat(descriptor), self.path.stat())


def recorded(path: Path, count: int, torn: bytes = b"") -> Disk:
    """What the disk saw while a ledger with two entries and a torn tail grew by `count`."""
    filled(path, 2)
    with path.open("ab") as file:
        file.write(torn)
    disk = Disk(path, synced=path.read_bytes(), confirmed=2)
    with pytest.MonkeyPatch.context() as patch:
        disk.watch(patch)
        ledger = FileLedger(path)
        for seq in range(3, 3 + count):
            ledger.append(event(seq, note="x" * (100 * seq)))
            disk.confirmed = seq
            disk.note()
    return disk


def after_cuts(disk: Disk, block: int, tries: int, seed: int) -> Iterator[tuple[bytes, int]]:
    """Bytes that may stand there after a cut, each with the number of confirmed entries."""
    draw = random.Random(seed)
    for synced, loose, confirmed in disk.states:
        yield synced, confirmed
        for _ in range(tries if loose else 0):
            yield _after_cut(synced, loose, block, draw), confirmed


def _after_cut(
    synced: bytes, loose: list[tuple[int, bytes]], block: int, draw: random.Random
) -> bytes:
    data = bytearray(synced)
    for offset, written in loose:
        if not written:
            if draw.random() < 0.5:
                del data[offset:]
            continue
        end = offset + len(written)
        came = [
            start for start in range(offset - offset % block, end, block) if draw.random() < 0.6
        ]
        size = end if draw.random() < 0.5 else max([s + block for s in came], default=len(data))
        data.extend(b"\0" * (min(size, end) - len(data)))
        for start in came:
            first, last = max(start, offset), min(start + block, end, len(data))
            data[first:last] = written[first - offset : last - offset]
    return bytes(data)
