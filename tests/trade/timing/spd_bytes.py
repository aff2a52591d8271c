"""SPD bytes for tests: an encoder of its own, from the published layouts, and two real modules.

Layouts: JEDEC No. 21-C annex 4.1.2.L (DDR4), as litedram's test data name the bytes, and JESD400-5
(DDR5), as laid out in illumos `spd_ddr5.h`. The check sum is Python's own CRC-CCITT.
Real bytes: DDR4 from the litedram test data (MTA4ATF51264HZ), DDR5 from the illumos libjedec tests
(AQD-D5V16GR48-SB): both are what the makers wrote into the modules.
"""

from binascii import crc_hqx
from collections.abc import Mapping

DDR4_ROWS = {
    0x00: "23 11 0C 03 45 21 00 08 00 60 00 03 02 03 00 00",
    0x10: "00 00 05 0D F8 FF 2F 00 6E 6E 6E 11 00 6E F0 0A",
    0x20: "20 08 00 05 00 F0 2B 34 28 00 78 00 14 3C 00 00",
    0x30: "00 00 00 00 00 00 00 00 00 00 00 00 16 36 0B 35",
    0x40: "16 36 0B 35 00 00 16 36 0B 35 16 36 0B 35 00 00",
    0x70: "00 00 00 00 00 00 9C B5 00 00 00 00 E7 00 20 4D",
}
"""MTA4ATF51264HZ-3G2E1: DDR4-3200, chips of 8 Gb with 16 lines; check sum 0x4D20."""
DDR5_ROWS = {
    0x000: "30 10 12 01 04 00 20 62 00 00 00 00 90 02 00 00",
    0x010: "00 00 00 00 A0 01 F2 03 7A 0D 00 00 00 00 80 3E",
    0x020: "80 3E 80 3E 00 7D 80 BB 30 75 27 01 A0 00 82 00",
    0x040: "00 00 00 00 00 00 88 13 08 88 13 08 20 4E 20 10",
    0x050: "27 10 15 34 20 10 27 10 C4 09 04 4C 1D 0C 00 00",
    0x0C0: "10 00 86 32 80 15 86 32 81 33 00 00 00 00 00 00",
    0x0D0: "00 00 86 32 C1 13 00 00 00 00 00 00 00 00 00 00",
    0x0E0: "00 00 00 00 00 00 11 21 03 82 00 32 00 00 00 00",
    0x0F0: "86 32 80 22 00 00 00 00 2E 4E 00 00 00 00 28 00",
    0x1F0: "00 00 00 00 00 00 00 00 00 00 00 00 00 00 77 DB",
}
"""AQD-D5V16GR48-SB: DDR5-4800, chips of 16 Gb with 8 lines; check sum 0xDB77."""


def real(rows: Mapping[int, str], size: int) -> bytes:
    """A module's bytes from the rows that are not all zero."""
    raw = bytearray(size)
    for at, row in rows.items():
        raw[at : at + 16] = bytes.fromhex(row)
    return bytes(raw)


REAL_DDR4 = real(DDR4_ROWS, 512)
REAL_DDR4_2400 = real(
    DDR4_ROWS
    | {
        0x10: "00 00 07 0D F8 7F 00 00 6E 6E 6E 11 00 6E F0 0A",
        0x70: "00 00 00 00 00 00 9C B5 00 00 00 00 E7 D6 B5 ED",
    },
    512,
)
"""Of the same family, MTA4ATF51264HZ-2G3B1: DDR4-2400; check sum 0xEDB5."""
REAL_DDR5 = real(DDR5_ROWS, 1024)


def sealed(raw: bytes) -> bytes:
    """The same bytes with the check sum that they should have."""
    covered = 126 if raw[2] == 0x0C else 510
    sealing = crc_hqx(raw[:covered], 0).to_bytes(2, "little")
    return raw[:covered] + sealing + raw[covered + 2 :]


def edited(raw: bytes, changes: Mapping[int, int]) -> bytes:
    """Bytes changed, and sealed anew."""
    changed = bytearray(raw)
    for at, value in changes.items():
        changed[at] = value
    return sealed(bytes(changed))


_DDR4_AT = {  # medium byte, fine byte
    "tCK": (18, 125),
    "tCL": (24, 123),
    "tRCD": (25, 122),
    "tRP": (26, 121),
    "tRRD_S": (38, 119),
    "tRRD_L": (39, 118),
    "tCCD_L": (40, 117),
}
_DDR4_WIDE = {  # low byte, byte of the upper nibble, whether it is the upper half, fine byte
    "tRAS": (28, 27, False, None),
    "tRC": (29, 27, True, 120),
    "tFAW": (37, 36, False, None),
    "tWR": (42, 41, False, None),
    "tWTR_S": (44, 43, False, None),
    "tWTR_L": (45, 43, True, None),
}


def ddr4(times: Mapping[str, int], latencies: range) -> bytes:
    """DDR4 bytes with these ps, over the bytes of the real module."""
    raw = bytearray(REAL_DDR4[:128])
    for name, ps in times.items():
        medium = -(-ps // 125)
        fine = (ps - medium * 125) % 256
        if name in _DDR4_AT:
            low, at = _DDR4_AT[name]
            raw[low], raw[at] = medium, fine
        elif name in _DDR4_WIDE:
            low, high, upper, extra = _DDR4_WIDE[name]
            nibble, kept = medium >> 8, raw[high]
            raw[low] = medium & 0xFF
            raw[high] = (kept & 0x0F | nibble << 4) if upper else (kept & 0xF0 | nibble)
            if extra is not None:
                raw[extra] = fine
        elif name == "tRFC":
            raw[30:32] = medium.to_bytes(2, "little")
    first = 7 if latencies[0] < 23 else 23
    bits = sum(1 << n - first for n in latencies) | (first == 23) << 31
    raw[20:24] = bits.to_bytes(4, "little")
    return sealed(bytes(raw))


def ddr5(times: Mapping[str, int], latencies: range) -> bytes:
    """DDR5 bytes with these ps, over the bytes of the real module."""
    at = {"tCK": 20, "tCL": 30, "tRCD": 32, "tRP": 34, "tRAS": 36, "tRC": 38, "tWR": 40, "tFAW": 82}
    raw = bytearray(REAL_DDR5)
    for name, ps in times.items():
        place = 42 if name == "tRFC" else at[name]
        raw[place : place + 2] = (ps // 1000 if name == "tRFC" else ps).to_bytes(2, "little")
    bits = sum(1 << (n - 20) // 2 for n in latencies)
    raw[24:29] = bits.to_bytes(5, "little")
    return sealed(bytes(raw))
