"""Does a ledger still hold an entry that was printed or given away earlier?"""

from typing import Protocol

from planner.domain.ledger import Head, Ledger
from planner.store.lines import EMPTY


class ChainedLedger(Ledger, Protocol):
    """A ledger that can be asked for the chain of each entry."""

    def chain_at(self, seq: int) -> str | None:
        """`chain` of entry `seq` as of the last read or append, or None if there is none."""
        ...


def contains(ledger: ChainedLedger, head: Head) -> bool:
    """Whether `ledger` still holds entry `head.seq` with the chain it had when `head` was taken.

    False means that the tail was lost or that something up to that entry was rewritten: each chain
    covers all entries before it. The ledger is read up to date first.

    Raises:
        LedgerDamaged: lines that do not verify, named by line number.
    """
    ledger.read(max(head.seq, 0))
    return head == EMPTY or ledger.chain_at(head.seq) == head.chain
