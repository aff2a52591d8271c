"""DDR5 SPD bytes: the base block, checked over the first 510 bytes.

Times are whole ps, refresh times whole ns, the low byte first; limits of bank groups and activates
carry a floor in clocks in a third byte. Source: JESD400-5, sections 8.1.1 to 8.1.47, as laid out in
illumos `spd_ddr5.h`.
"""

from planner.domain.memory import Standard
from planner.trade.timing.spd.module import Module, told

KEY = 0x12
"""Byte 2 of a DDR5 module."""
SIZE = 512
"""Bytes that are needed."""
CRC_AT, CRC_COVERS = 510, 510
"""Where the check sum stands, and how many bytes from the start it is of."""
_GIGABITS = {1: 4, 2: 8, 3: 12, 4: 16, 5: 24, 6: 32, 7: 48, 8: 64}
_PS = {"tCL": 30, "tRCD": 32, "tRP": 34, "tRAS": 36, "tRC": 38, "tWR": 40}
_NS = {"tRFC": 42, "tRFC2": 44, "tRFCsb": 46}
_WITH_FLOOR = {
    "tRRD_L": 70,
    "tCCD_L": 73,
    "tCCD_L_WR": 76,
    "tCCD_L_WR2": 79,
    "tFAW": 82,
    "tWTR_L": 85,
    "tWTR_S": 88,
    "tRTP": 91,
}
"""Where each begins. What the standard calls tCCD_L_WTR and tCCD_S_WTR in bytes 85 to 90 is
the part of it that follows the write's data: tWTR."""


def decode(raw: bytes) -> Module:
    """The module that the bytes describe, their check sum being right.

    Raises:
        ValueError: a code that the standard does not give, or values that no memory has.
    """
    gigabits = _GIGABITS.get(raw[4] & 0x1F)
    if gigabits is None:
        raise ValueError(f"byte 4 = 0x{raw[4]:02X}: expected a chip of 4 to 64 Gb")
    width = raw[6] >> 5
    if width > 3:
        raise ValueError(f"byte 6 = 0x{raw[6]:02X}: expected chips of 4 to 32 data lines")
    if raw[16] >> 4:
        raise ValueError(f"byte 16 = 0x{raw[16]:02X}: expected a nominal supply of 1.1 V")
    times = {name: _word(raw, at) for name, at in (_PS | _WITH_FLOOR).items()}
    times |= {name: _word(raw, at) * 1000 for name, at in _NS.items()}
    return Module(
        standard=Standard.DDR5,
        gigabits=gigabits,
        width=4 << width,
        clock=_word(raw, 20),
        latencies=_latencies(raw),
        times=told(times),
        floors={name: raw[at + 2] for name, at in _WITH_FLOOR.items()},
        volts=1.1,
    )


def _word(raw: bytes, at: int) -> int:
    return raw[at] | raw[at + 1] << 8


def _latencies(raw: bytes) -> tuple[int, ...]:
    bits = int.from_bytes(raw[24:29], "little")
    return tuple(20 + 2 * bit for bit in range(40) if bits >> bit & 1)
