"""The seam to disk and databases: stores that keep the ledger's lines, byte for byte the same."""

from planner.store.file import FileLedger
from planner.store.heads import ChainedLedger, contains
from planner.store.memory import MemoryLedger
from planner.store.place import MEMORY, Place, definition_text, new_place, open_place
from planner.store.set_aside import repair

__all__ = [
    "MEMORY",
    "ChainedLedger",
    "FileLedger",
    "MemoryLedger",
    "Place",
    "contains",
    "definition_text",
    "new_place",
    "open_place",
    "repair",
]
