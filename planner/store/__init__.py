"""The seam to disk and databases: stores that keep the ledger's lines, byte for byte the same."""

from planner.store.address import Address, is_address, masked, parse_address
from planner.store.disk import replace_synced
from planner.store.file import FileLedger
from planner.store.folder import StudyFolder
from planner.store.heads import ChainedLedger, contains
from planner.store.known import remember
from planner.store.memory import MemoryLedger
from planner.store.moving import move_to_folder, move_to_server
from planner.store.place import MEMORY, Place, begin_mirror, definition_text, new_place, open_place
from planner.store.server import ServerLedger
from planner.store.set_aside import repair, set_tail_aside
from planner.store.settings import (
    StoreSettings,
    refuse_password,
    set_mirror,
    store_settings,
    write_store,
)
from planner.store.taking_back import give_back, take_back

__all__ = [
    "MEMORY",
    "Address",
    "ChainedLedger",
    "FileLedger",
    "MemoryLedger",
    "Place",
    "ServerLedger",
    "StoreSettings",
    "StudyFolder",
    "begin_mirror",
    "contains",
    "definition_text",
    "give_back",
    "is_address",
    "masked",
    "move_to_folder",
    "move_to_server",
    "new_place",
    "open_place",
    "parse_address",
    "refuse_password",
    "remember",
    "repair",
    "replace_synced",
    "set_mirror",
    "set_tail_aside",
    "store_settings",
    "take_back",
    "write_store",
]
