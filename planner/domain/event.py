"""One entry of a study's ledger."""

from collections.abc import Mapping
from enum import StrEnum
from typing import Any, NamedTuple

FORMAT = 1
"""Version of the ledger's line format; a newer one is refused politely."""


class Kind(StrEnum):
    """What an event says; history is what a fold over these gives."""

    DEFINED = "defined"
    PROPOSED = "proposed"
    WITHDRAWN = "withdrawn"
    RUN = "run"
    AMENDED = "amended"
    ACCEPTED = "accepted"
    BOOT = "boot"
    CHANGED = "changed"
    CLOSED = "closed"
    REOPENED = "reopened"
    NOTE = "note"

    __hash__ = str.__hash__  # Enum's own is slow, and replay looks every entry up by its kind


class Event(NamedTuple):
    """A fact that was told to the study, in the order of `seq`, never by clock."""

    seq: int
    """Position in the ledger, from 1, without gaps."""
    time: str
    """UTC wall clock of the writer, ISO 8601; shown to people, never used for order."""
    bench: str
    """Name of the bench that wrote it; a pending proposal belongs to one bench."""
    id: str
    """Unique token chosen by the writer, to recognise an entry whose answer was lost."""
    kind: Kind
    body: Mapping[str, Any]
    """What happened: plain JSON values, finite numbers only."""
