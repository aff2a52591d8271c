"""The entries of a ledger as its lines are taken in, one after the other, with what is wrong."""

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from hashlib import sha256
from operator import attrgetter
from typing import Any

from planner.domain.event import Event, Kind
from planner.domain.ledger import Head
from planner.errors import LedgerDamaged
from planner.store.lines import EMPTY, decode

SET_ASIDE = "set_aside"
"""Key in the body of a note: the flaws that are known and accepted from there on."""
_NAMED = 5
_WAY_OUT = (
    "Put a sound copy back if there is one; else planner check --repair sets these lines aside and"
    " keeps all others"
)


@dataclass(frozen=True, slots=True)
class Flaw:
    """A line that does not verify, or does not fit the entry before it.

    It names the bytes of that line and the entry before, so that a note which accepts it accepts
    nothing else, stands after it, and nothing before it can be exchanged unseen.
    """

    line: int
    """Number of the line, from 1."""
    sha256: str
    """SHA-256 of the line's bytes without the line feed, 64 hex digits."""
    prev: str
    """`chain` of the last entry before it."""
    what: str = field(compare=False)
    """For people: what is wrong with it."""


class Scan:
    """Entries in order, from lines given in order; flaws are collected, not raised."""

    def __init__(self) -> None:
        self.lines = 0
        """Lines taken."""
        self.gap = 0
        """Lines left out since the last entry; at the end of a ledger each may be an entry."""
        self._seq, self._chain = EMPTY.seq, EMPTY.chain
        self._events: list[Event] = []
        self._chains: list[str] = []
        self._flaws: list[Flaw] = []
        self._accepted: set[Flaw] = set()

    @property
    def head(self) -> Head:
        """The last entry taken."""
        return Head(self._seq, self._chain)

    def take(self, raws: Iterable[bytes]) -> None:
        """Take the next lines, without their line feeds.

        Raises:
            LedgerTooNew: a line was written by a newer planner.
        """
        for raw in raws:
            self.lines += 1
            try:
                event, prev, chain = decode(raw)
            except LedgerDamaged as error:
                self._leave_out(raw, str(error))
                continue
            if event.seq == self._seq + 1 and prev == self._chain:
                self._keep(event, chain)
            else:
                self._fit(raw, event, chain)

    def after(self, seq: int) -> Sequence[Event]:
        """The entries with a number above `seq`, in order."""
        return tuple(self._events[self._count_up_to(seq) :])

    def chain_at(self, seq: int) -> str | None:
        """`chain` of entry `seq`, or None if there is none."""
        index = self._count_up_to(seq) - 1
        return self._chains[index] if index >= 0 and self._events[index].seq == seq else None

    def open_flaws(self) -> list[Flaw]:
        """Flaws that no later note has accepted."""
        return [flaw for flaw in self._flaws if flaw not in self._accepted]

    def _count_up_to(self, seq: int) -> int:
        return bisect_right(self._events, seq, key=attrgetter("seq"))

    def _keep(self, event: Event, chain: str) -> None:
        self.gap = 0
        self._seq, self._chain = event.seq, chain
        self._events.append(event)
        self._chains.append(chain)
        if event.kind is Kind.NOTE and SET_ASIDE in event.body:
            self._accept(event.body[SET_ASIDE])

    def _leave_out(self, raw: bytes, what: str) -> None:
        self.gap += 1
        self._add_flaw(raw, what)

    def _fit(self, raw: bytes, event: Event, chain: str) -> None:
        """Place an entry that is not simply the next one."""
        seq = self._seq
        if event.seq <= seq:
            self._leave_out(raw, f"it is entry {event.seq}, but stands after entry {seq}")
            return
        if event.seq == seq + 1:
            self._add_flaw(raw, f"it does not follow entry {seq}: one of the two was rewritten")
        elif not self.gap:
            self._add_flaw(raw, f"it is entry {event.seq}; those after {seq} were removed or moved")
        # After lines left out, a jump in numbers is what they held: `prev` has nothing to meet.
        self._keep(event, chain)

    def _add_flaw(self, raw: bytes, what: str) -> None:
        self._flaws.append(Flaw(self.lines, sha256(raw).hexdigest(), self._chain, what))

    def _accept(self, listed: Any) -> None:
        for entry in listed if isinstance(listed, list) else ():
            match entry:
                case {"line": int(line), "sha256": str(digest), "prev": str(prev)}:
                    self._accepted.add(Flaw(line, digest, prev, ""))


def name_flaws(flaws: Sequence[Flaw]) -> str:
    """The first few flaws in one line of text, by line number."""
    named = "; ".join(f"line {flaw.line}: {flaw.what}" for flaw in flaws[:_NAMED])
    more = len(flaws) - _NAMED
    return f"{named}; and {more} more lines" if more > 0 else named


def refuse_open_flaws(place: str, scan: Scan, way_out: str = _WAY_OUT) -> None:
    """Raise what a reader of the ledger at `place` must know before going on.

    Raises:
        LedgerDamaged: flaws that no later note has accepted.
    """
    if flaws := scan.open_flaws():
        raise LedgerDamaged(
            f"{place} is damaged; nothing was written. {name_flaws(flaws)}. {way_out}"
        )
