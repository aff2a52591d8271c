"""The check sum of SPD blocks: CRC-16 with polynomial x^16 + x^12 + x^5 + 1, begun at 0.

Source: JEDEC No. 21-C, annex 4.1.2.L, bytes 126 and 127 (also known as CRC-16/XMODEM).
"""

_POLYNOMIAL = 0x1021


def crc16(data: bytes) -> int:
    """The check sum of the bytes, from 0 to 0xFFFF."""
    crc = 0
    for byte in data:
        crc ^= byte << 8
        for _ in range(8):
            crc = (crc << 1) ^ (_POLYNOMIAL if crc & 0x8000 else 0)
        crc &= 0xFFFF
    return crc
