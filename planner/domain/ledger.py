"""The seam to every store: append and read, nothing else."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from planner.domain.event import Event


@dataclass(frozen=True, slots=True)
class Head:
    """The last entry of a ledger; given away, it later shows a lost tail or a rewrite."""

    seq: int
    """Number of the last entry; 0 for an empty ledger."""
    chain: str
    """SHA-256 (64 hex digits) of the last line; 64 zeros for an empty ledger."""


class Ledger(Protocol):
    """An append-only sequence of events; what `append` was given is durable when it returns."""

    def append(self, event: Event) -> None:
        """Write `event` as entry `event.seq`.

        Raises:
            LedgerConflict: `event.seq` is not the next number; another writer was first.
            LedgerBusy: the ledger is held by another program.
            LedgerDamaged: what stands there does not verify; nothing was written.
            LedgerUnwritable: the disk refused; nothing that stood there was lost.
        """
        ...

    def read(self, after: int = 0) -> Sequence[Event]:
        """All events with `seq > after`, in order.

        Raises:
            LedgerDamaged: lines that do not verify, named by line number.
        """
        ...

    @property
    def head(self) -> Head:
        """The last entry as of the last read or append."""
        ...
