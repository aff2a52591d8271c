"""SPD bytes: real modules, an encoder of the tests' own, and what must be refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.domain.memory import Standard
from planner.errors import InputError
from planner.trade.timing.spd.crc import crc16
from planner.trade.timing.spd.read import read_module
from tests.trade.timing.spd_bytes import (
    REAL_DDR4,
    REAL_DDR4_2400,
    REAL_DDR5,
    ddr4,
    ddr5,
    edited,
)


def test_the_check_sum() -> None:
    """The check value of CRC-16/XMODEM (RevEng catalogue), and the bytes the makers wrote."""
    assert crc16(b"123456789") == 0x31C3
    assert crc16(b"") == 0
    assert [crc16(raw[:126]) for raw in (REAL_DDR4, REAL_DDR4_2400)] == [0x4D20, 0xEDB5]
    assert crc16(REAL_DDR5[:510]) == 0xDB77


def test_a_ddr4_3200_module() -> None:
    """MTA4ATF51264HZ-3G2E1, ps and clocks as litedram's tests and the data sheet have them."""
    module = read_module(REAL_DDR4, "m")
    assert (module.standard, module.rate, module.clock) == (Standard.DDR4, 3200, 625)
    assert (module.gigabits, module.width, module.volts) == (8, 16, 1.2)
    assert module.latencies == (*range(10, 27), 28)
    assert module.times == {
        "tCL": 13750,
        "tRCD": 13750,
        "tRP": 13750,
        "tRAS": 32000,
        "tRC": 45750,
        "tRFC": 350000,
        "tRFC2": 260000,
        "tRFC4": 160000,
        "tFAW": 30000,
        "tRRD_S": 5300,
        "tRRD_L": 6400,
        "tCCD_L": 5000,
        "tWR": 15000,
        "tWTR_S": 2500,
        "tWTR_L": 7500,
    }
    clocks = module.timings().clocks
    assert [clocks[n] for n in ("tCL", "tRCD", "tRP", "tRAS", "tRC")] == [22, 22, 22, 52, 74]
    assert [clocks[n] for n in ("tRFC", "tRFC2", "tRFC4", "tFAW")] == [560, 416, 256, 48]
    assert [clocks[n] for n in ("tRRD_S", "tRRD_L", "tCCD_L", "tWR")] == [9, 11, 8, 24]
    assert [clocks[n] for n in ("tWTR_S", "tWTR_L", "tRTP", "tCCD_S")] == [4, 12, 12, 4]


def test_a_ddr4_2400_module() -> None:
    """MTA4ATF51264HZ-2G3B1; a plain ceiling would give tFAW 37, tCCD_L 7, tWR 19, tWTR 4/10."""
    module = read_module(REAL_DDR4_2400, "m")
    assert (module.rate, module.clock, module.latencies) == (2400, 833, tuple(range(10, 22)))
    clocks = module.timings().clocks
    assert [clocks[n] for n in ("tCL", "tRCD", "tRP", "tRAS", "tRC")] == [17, 17, 17, 39, 55]
    assert [clocks[n] for n in ("tRFC", "tRFC2", "tRFC4", "tFAW")] == [421, 313, 193, 36]
    assert [clocks[n] for n in ("tRRD_S", "tRRD_L", "tCCD_L", "tWR")] == [7, 8, 6, 18]
    assert [clocks[n] for n in ("tWTR_S", "tWTR_L")] == [3, 9]


def test_a_ddr5_4800_module() -> None:
    """AQD-D5V16GR48-SB, every value as the illumos libjedec tests expect it."""
    module = read_module(REAL_DDR5, "m")
    assert (module.standard, module.rate, module.clock) == (Standard.DDR5, 4800, 416)
    assert (module.gigabits, module.width, module.volts) == (16, 8, 1.1)
    assert module.latencies == (22, 26, 28, 30, 32, 36, 40, 42)
    known = {"tCL": 16000, "tRCD": 16000, "tRP": 16000, "tRAS": 32000, "tRC": 48000, "tWR": 30000}
    known |= {"tRFC": 295000, "tRFC2": 160000, "tRFCsb": 130000, "tRRD_L": 5000, "tCCD_L": 5000}
    known |= {"tCCD_L_WR": 20000, "tCCD_L_WR2": 10000, "tFAW": 13333, "tWTR_L": 10000}
    assert module.times == known | {"tWTR_S": 2500, "tRTP": 7500}
    floors = {"tRRD_L": 8, "tCCD_L": 8, "tCCD_L_WR": 32, "tCCD_L_WR2": 16, "tFAW": 32}
    assert module.floors == floors | {"tWTR_L": 16, "tWTR_S": 4, "tRTP": 12}
    clocks = module.timings().clocks
    # tAA of 16 ns is 39 clocks, which DDR5 does not have: 40, as the bin 40-39-39.
    assert [clocks[n] for n in ("tCL", "tRCD", "tRP", "tRAS", "tRC")] == [40, 39, 39, 77, 116]
    assert [clocks[n] for n in ("tWR", "tRFC", "tFAW", "tCCD_L_WR")] == [72, 708, 32, 48]


@pytest.mark.parametrize(
    ("raw", "clock", "rate"),
    [
        (REAL_DDR4, c, r)
        for c, r in ((937, 2133), (938, 2133), (682, 2933), (750, 2666), (500, 4000))
    ]
    + [(REAL_DDR5, c, r) for c, r in ((357, 5600), (333, 6000), (312, 6400), (277, 7200))],
)
def test_rates_go_by_their_names(raw: bytes, clock: int, rate: int) -> None:
    """Clocks of JESD79-4 (2133 is told as 937 and as 938 ps) and JESD79-5."""
    times = {"tCK": clock}
    made = ddr4(times, range(7, 23)) if raw is REAL_DDR4 else ddr5(times, range(20, 98, 2))
    if clock == 500:
        made = ddr4(times, range(23, 50))
    assert read_module(made, "m").rate == rate


@given(
    clock=st.integers(500, 1500),
    cl=st.integers(10_000, 16_000),
    ras=st.integers(240, 400),
    rp=st.integers(10_000, 15_000),
    faw=st.integers(80, 280),
    rfc=st.integers(800, 8_000),
)
def test_ddr4_bytes_read_back(clock: int, cl: int, ras: int, rp: int, faw: int, rfc: int) -> None:
    """What the tests' encoder wrote is read as it was, to the picosecond of the fine base."""
    times = {"tCK": clock, "tCL": cl, "tRP": rp, "tRCD": rp + 77}
    times |= {"tRAS": ras * 125, "tRC": ras * 125 + rp, "tFAW": faw * 125, "tRFC": rfc * 125}
    module = read_module(ddr4(times, range(7, 37 - 7)), "m") if clock > 600 else None
    if module is None:
        module = read_module(ddr4(times, range(23, 52)), "m")
    assert module.clock == times.pop("tCK")
    assert {name: module.times[name] for name in times} == times


@given(
    clock=st.integers(250, 700),
    cl=st.integers(12_000, 20_000),
    ras=st.integers(25_000, 45_000),
    rfc=st.integers(100, 800),
)
def test_ddr5_bytes_read_back(clock: int, cl: int, ras: int, rfc: int) -> None:
    """The same for DDR5."""
    times = {"tCK": clock, "tCL": cl, "tRAS": ras, "tRC": ras + 16_000, "tRFC": rfc * 1000}
    module = read_module(ddr5(times, range(20, 100, 2)), "m")
    assert module.clock == times.pop("tCK")
    assert {name: module.times[name] for name in times} == times
    clocks = module.timings().clocks
    assert all(clocks[n] * clock >= times[n] * 0.997 - 1 for n in times)


@pytest.mark.parametrize("raw", [REAL_DDR4[:128], REAL_DDR5[:512]], ids=["DDR4", "DDR5"])
def test_every_flipped_bit_is_noticed(raw: bytes) -> None:
    """One bit anywhere in what the check sum covers; and every length that is too short."""
    for at in range(0, len(raw) - 2, 3):
        flipped = bytearray(raw)
        flipped[at] ^= 1 << at % 8
        with pytest.raises(InputError):
            read_module(bytes(flipped), "m")
    for size in (0, 1, 2, 3, 127, len(raw) - 1):
        with pytest.raises(InputError, match="expected at least"):
            read_module(raw[:size], "m")


@pytest.mark.parametrize(
    ("raw", "named"),
    [
        (edited(REAL_DDR4, {2: 0x0B}), r"byte 2 = 0x0B \(DDR3\)"),
        (edited(REAL_DDR5, {2: 0x13}), r"byte 2 = 0x13 \(LPDDR5\)"),
        (edited(REAL_DDR5, {2: 0xFF}), "no memory known"),
        (bytes(512), "byte 2 = 0x00"),
        (b"0000: 30 10 12 01\n" * 40, "text, expected the module's raw bytes"),
        (bytes(5000), "more than 4096 bytes"),
        (REAL_DDR4[:126] + b"\0\0" + REAL_DDR4[128:], "0x0000, expected 0x4D20"),
        (edited(REAL_DDR4, {17: 5}), "byte 17 = 0x05"),
        (edited(REAL_DDR4, {4: 0x4F}), "byte 4 = 0x4F"),
        (edited(REAL_DDR4, {12: 7}), "byte 12 = 0x07"),
        (edited(REAL_DDR4, {11: 0}), "byte 11 = 0x00"),
        (edited(REAL_DDR4, {18: 0}), "shortest clock = 0 ps"),
        (edited(REAL_DDR4, {24: 0, 123: 0}), "tCL = 0 ns"),
        (edited(REAL_DDR4, {27: 0x01}), r"tRC = 13.75 ns: expected 20 to 90"),
        (edited(REAL_DDR4, {28: 0xE0}), "tRC = 45.75 ns: expected at least tRAS"),
        (edited(REAL_DDR4, {20: 0, 21: 0, 22: 0, 23: 0}), "read latencies"),
        (edited(REAL_DDR4, {30: 0, 31: 0}), "tRFC = 0 ns"),
        (edited(REAL_DDR4, {34: 0xFF, 35: 0xFF}), "tRFC4 = 8191.88 ns"),
        (edited(REAL_DDR4, {40: 0, 117: 0x9C}), "tCCD_L = -0.1 ns"),
        (edited(REAL_DDR5, {4: 0}), "byte 4 = 0x00"),
        (edited(REAL_DDR5, {6: 0xE0}), "byte 6 = 0xE0"),
        (edited(REAL_DDR5, {16: 0x10}), "byte 16 = 0x10"),
        (edited(REAL_DDR5, {20: 0, 21: 0}), "shortest clock = 0 ps"),
        (edited(REAL_DDR5, {20: 0xFF, 21: 0xFF}), "shortest clock = 65535 ps"),
        (edited(REAL_DDR5, {36: 0xFF, 37: 0xFF}), "tRAS = 65.535 ns"),
        (edited(REAL_DDR5, {24: 4, 25: 0}), r"read latencies = \[24\]"),
        (edited(REAL_DDR5, {30: 0, 31: 0}), "tCL = 0 ns"),
        (edited(REAL_DDR5, {38: 0, 39: 0}), "tRC = 0 ns"),
    ],
)
def test_what_cannot_be_trusted_is_refused(raw: bytes, named: str) -> None:
    """With a right check sum or without; the message opens with the file's name."""
    with pytest.raises(InputError, match=rf"^dump\.bin: .*{named}"):
        read_module(raw, "dump.bin")


def test_what_a_module_may_leave_out() -> None:
    """Refresh of other kinds at 0 is not told, and the rest is read."""
    module = read_module(edited(REAL_DDR4, {32: 0, 33: 0, 34: 0, 35: 0}), "m")
    assert not {"tRFC2", "tRFC4"} & {*module.times, *module.timings().clocks}
    module = read_module(edited(REAL_DDR5, {91: 0, 92: 0, 46: 0, 47: 0}), "m")
    assert "tRFCsb" not in module.times
    assert module.timings().clocks["tRTP"] == 18


@given(st.binary(min_size=128, max_size=600), st.sampled_from([0x0C, 0x12]))
def test_random_bytes_never_crash(raw: bytes, key: int) -> None:
    """Any bytes with a right check sum are a module or a refusal."""
    made = edited((raw + bytes(512))[:512], {2: key})
    try:
        module = read_module(made, "m")
    except InputError:
        return
    assert module.timings().rate == module.rate
