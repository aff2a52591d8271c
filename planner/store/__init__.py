"""The seam to disk and databases: stores that keep the ledger's lines, byte for byte the same."""

from planner.store.address import Address, is_address, masked, parse_address
from planner.store.file import FileLedger
from planner.store.heads import ChainedLedger, contains
from planner.store.known import remember
from planner.store.memory import MemoryLedger
from planner.store.moving import move_to_folder, move_to_server
from planner.store.place import MEMORY, Place, definition_text, new_place, open_place
from planner.store.server import ServerLedger
from planner.store.set_aside import repair
from planner.store.settings import refuse_password, store_settings, write_store

__all__ = [
    "MEMORY",
    "Address",
    "ChainedLedger",
    "FileLedger",
    "MemoryLedger",
    "Place",
    "ServerLedger",
    "contains",
    "definition_text",
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
    "store_settings",
    "write_store",
]
