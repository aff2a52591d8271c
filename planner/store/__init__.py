"""The seam to disk and databases: stores that keep the ledger's lines, byte for byte the same."""

from planner.store.file import FileLedger
from planner.store.heads import ChainedLedger, contains
from planner.store.memory import MemoryLedger
from planner.store.mirror import mirror_ledger
from planner.store.place import MEMORY, Place, definition_text, new_place, open_place
from planner.store.set_aside import repair
from planner.store.settings import StoreSettings, set_mirror, store_settings
from planner.store.taking_back import take_back

__all__ = [
    "MEMORY",
    "ChainedLedger",
    "FileLedger",
    "MemoryLedger",
    "Place",
    "StoreSettings",
    "contains",
    "definition_text",
    "mirror_ledger",
    "new_place",
    "open_place",
    "repair",
    "set_mirror",
    "store_settings",
    "take_back",
]
