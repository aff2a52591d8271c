"""Events and ledgers that the exams of the stores share."""

import hashlib
import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from planner.domain.event import Event, Kind
from planner.store.address import parse_address
from planner.store.file import FileLedger
from planner.store.lines import EMPTY, encode
from planner.store.memory import MemoryLedger
from planner.store.server import ServerLedger
from tests.postgres import server_url

TIME = "2026-01-02T20:30:00+00:00"


def event(seq: int, token: str | None = None, kind: Kind = Kind.RUN, **body: Any) -> Event:
    """Entry `seq` with a body that differs from entry to entry."""
    return Event(seq, TIME, "left", token or f"e{seq}", kind, {"run": seq, "score": seq / 8} | body)


def events(count: int) -> list[Event]:
    """The first `count` entries of a ledger."""
    return [event(seq) for seq in range(1, count + 1)]


def chained(entries: Sequence[Event]) -> list[bytes]:
    """The lines of entries that follow each other."""
    lines: list[bytes] = []
    for entry in entries:
        lines.append(encode(entry, chain_of(lines[-1]) if lines else EMPTY.chain))
    return lines


def chain_of(line: bytes) -> str:
    """What the line says its chain is."""
    return str(json.loads(line)["chain"])


def sealed(before_chain: bytes) -> bytes:
    """A line, hostile or not, whose chain is right by the published rule."""
    digest = hashlib.sha256(before_chain).hexdigest()
    return before_chain + b',"chain":"' + digest.encode() + b'"}'


def filled(path: Path, count: int) -> FileLedger:
    """A ledger file with `count` entries."""
    path.write_bytes(b"".join(chained(events(count))))
    ledger = FileLedger(path)
    ledger.read()
    return ledger


def written(path: Path, lines: Sequence[bytes]) -> FileLedger:
    """A ledger at `path` that holds `lines` as they are, not yet read."""
    # In place: some file systems flush a file that is emptied first, which takes milliseconds.
    with path.open("r+b" if path.exists() else "wb") as file:
        file.write(b"".join(lines))
        file.truncate()
    return FileLedger(path)


class InMemory:
    """A memory ledger as the exam sees it."""

    def __init__(self, folder: Path) -> None:
        self.ledger = MemoryLedger()

    def reopen(self) -> MemoryLedger:
        return MemoryLedger(self.ledger.lines)

    def kept(self) -> bytes:
        return b"".join(self.ledger.lines)


class InFile:
    """A ledger file as the exam sees it."""

    def __init__(self, folder: Path) -> None:
        self._path = folder / "ledger.jsonl"
        self.ledger = FileLedger(self._path)

    def reopen(self) -> FileLedger:
        return FileLedger(self._path)

    def kept(self) -> bytes:
        return self._path.read_bytes() if self._path.exists() else b""


class OnServer:
    """A ledger in PostgreSQL as the exam sees it."""

    def __init__(self, folder: Path) -> None:
        self.url = server_url()
        self.ledger = self.reopen()

    def reopen(self) -> ServerLedger:
        return ServerLedger(parse_address(self.url))

    def kept(self) -> bytes:
        return b"".join(self.reopen().lines())


STORES = {"memory": InMemory, "file": InFile, "server": OnServer}
