"""From a dump of a module's SPD bytes to what they say, refusing what cannot be trusted."""

from types import ModuleType

from planner.errors import InputError
from planner.trade.timing.spd import ddr4, ddr5
from planner.trade.timing.spd.crc import crc16
from planner.trade.timing.spd.module import Module

LARGEST = 4096
"""Bytes; no module has that many."""
_OTHER_KEYS = {
    0x07: "DDR",
    0x08: "DDR2",
    0x0B: "DDR3",
    0x0E: "DDR4E",
    0x0F: "LPDDR3",
    0x10: "LPDDR4",
    0x11: "LPDDR4X",
    0x13: "LPDDR5",
    0x14: "DDR5 NVDIMM-P",
    0x15: "LPDDR5X",
}
"""Byte 2 of what is not read here, for the message alone (JEDEC No. 21-C; from memory)."""


def read_module(raw: bytes, name: str) -> Module:
    """The module that a dump describes; `name` opens every message.

    Raises:
        InputError: too short, no raw bytes, another generation, a wrong check sum, or nonsense.
    """
    _check_size(raw, name)
    layout = _layout(raw[2], name)
    if len(raw) < layout.SIZE:
        raise InputError(
            f"{name}: {len(raw)} bytes, expected at least {layout.SIZE} of a"
            f" {layout.__name__.rpartition('.')[2].upper()} module"
        )
    stored = int.from_bytes(raw[layout.CRC_AT : layout.CRC_AT + 2], "little")
    counted = crc16(raw[: layout.CRC_COVERS])
    if stored != counted:
        raise InputError(
            f"{name}: check sum in bytes {layout.CRC_AT} and {layout.CRC_AT + 1} is"
            f" 0x{stored:04X}, expected 0x{counted:04X} (the dump is damaged or was edited)"
        )
    try:
        module: Module = layout.decode(raw)
    except ValueError as error:
        raise InputError(f"{name}: {error}") from None
    return module


def _check_size(raw: bytes, name: str) -> None:
    if len(raw) > LARGEST:
        raise InputError(f"{name}: more than {LARGEST} bytes, expected a dump of one module")
    if len(raw) < ddr4.SIZE:
        raise InputError(f"{name}: {len(raw)} bytes, expected at least {ddr4.SIZE}")
    if all(byte in b"\t\n\r" or 32 <= byte < 127 for byte in raw):
        raise InputError(f"{name}: text, expected the module's raw bytes (a binary dump)")


def _layout(key: int, name: str) -> ModuleType:
    for layout in (ddr4, ddr5):
        if key == layout.KEY:
            return layout
    what = _OTHER_KEYS.get(key, "no memory known")
    raise InputError(
        f"{name}: byte 2 = 0x{key:02X} ({what}), expected 0x{ddr4.KEY:02X} (DDR4) or"
        f" 0x{ddr5.KEY:02X} (DDR5)"
    )
