"""DDR4 SPD bytes: the base block of 128 bytes.

A time is a count of 125 ps (medium time base) plus a signed byte of 1 ps (fine time base).
Source: JEDEC No. 21-C, annex 4.1.2.L, bytes 0 to 127, as litedram's SPD test data name them byte by
byte; the codes of bytes 4, 11 and 12 from memory, right for the real modules of the tests.
"""

from planner.domain.memory import Standard
from planner.trade.timing.spd.module import Module, told

KEY = 0x0C
"""Byte 2 of a DDR4 module."""
SIZE = 128
"""Bytes that are needed."""
CRC_AT, CRC_COVERS = 126, 126
"""Where the check sum stands, and how many bytes from the start it is of."""
_MEDIUM_PS = 125
_GIGABITS = {2: 1, 3: 2, 4: 4, 5: 8, 6: 16, 7: 32, 8: 12, 9: 24}
_FIRST_LATENCY = (7, 23)
"""Of bit 0, by the range that byte 23 tells."""


def decode(raw: bytes) -> Module:
    """The module that the bytes describe, their check sum being right.

    Raises:
        ValueError: a code that the standard does not give, or values that no memory has.
    """
    if raw[17] != 0:
        raise ValueError(f"byte 17 = 0x{raw[17]:02X}: expected 0x00, time bases of 125 ps and 1 ps")
    gigabits = _GIGABITS.get(raw[4] & 0xF)
    if gigabits is None:
        raise ValueError(f"byte 4 = 0x{raw[4]:02X}: expected a chip of 1 to 32 Gb")
    width = raw[12] & 0x7
    if width > 3:
        raise ValueError(f"byte 12 = 0x{raw[12]:02X}: expected chips of 4 to 32 data lines")
    if not raw[11] & 1:
        raise ValueError(f"byte 11 = 0x{raw[11]:02X}: expected a module that runs at 1.2 V")
    return Module(
        standard=Standard.DDR4,
        gigabits=gigabits,
        width=4 << width,
        clock=_ps(raw[18], raw[125]),
        latencies=_latencies(raw),
        times=told(_times(raw)),
        floors={},
        volts=1.2,
    )


def _times(raw: bytes) -> dict[str, int]:
    return {
        "tCL": _ps(raw[24], raw[123]),
        "tRCD": _ps(raw[25], raw[122]),
        "tRP": _ps(raw[26], raw[121]),
        "tRAS": _ps((raw[27] & 0xF) << 8 | raw[28]),
        "tRC": _ps((raw[27] >> 4) << 8 | raw[29], raw[120]),
        "tRFC": _ps(raw[31] << 8 | raw[30]),
        "tRFC2": _ps(raw[33] << 8 | raw[32]),
        "tRFC4": _ps(raw[35] << 8 | raw[34]),
        "tFAW": _ps((raw[36] & 0xF) << 8 | raw[37]),
        "tRRD_S": _ps(raw[38], raw[119]),
        "tRRD_L": _ps(raw[39], raw[118]),
        "tCCD_L": _ps(raw[40], raw[117]),
        "tWR": _ps((raw[41] & 0xF) << 8 | raw[42]),
        "tWTR_S": _ps((raw[43] & 0xF) << 8 | raw[44]),
        "tWTR_L": _ps((raw[43] >> 4) << 8 | raw[45]),
    }


def _ps(medium: int, fine: int = 0) -> int:
    return medium * _MEDIUM_PS + (fine - 256 if fine > 127 else fine)


def _latencies(raw: bytes) -> tuple[int, ...]:
    bits = int.from_bytes(raw[20:24], "little")
    first = _FIRST_LATENCY[bits >> 31]
    return tuple(first + bit for bit in range(30) if bits >> bit & 1)
