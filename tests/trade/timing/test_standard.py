"""Limits, bins and refresh against data sheets and tables of the standards."""

import pytest

from planner.domain.memory import Standard
from planner.trade.timing.bins import BINS
from planner.trade.timing.clocks import clock_ps
from planner.trade.timing.limits import limit_of
from planner.trade.timing.refresh import REFRESH_NS, refresh_interval_ps, refresh_share

DDR4, DDR5 = Standard.DDR4, Standard.DDR5
RATES = (1600, 1866, 2133, 2400, 2666, 2933, 3200)
CLOCKS = {
    ("tCCD_L", 8): (5, 5, 6, 6, 7, 8, 8),
    ("tRTP", 8): (6, 7, 8, 9, 10, 11, 12),
    ("tWTR_L", 8): (6, 7, 8, 9, 10, 11, 12),
    ("tWTR_S", 8): (2, 3, 3, 3, 4, 4, 4),
    ("tRRD_S", 8): (4, 4, 4, 4, 4, 4, 4),
    ("tRRD_L", 8): (5, 5, 6, 6, 7, 8, 8),
    ("tFAW", 8): (20, 22, 23, 26, 28, 31, 34),
    ("tRRD_S", 16): (5, 5, 6, 7, 8, None, 9),
    ("tRRD_L", 16): (6, 6, 7, 8, 9, None, 11),
    ("tFAW", 16): (28, 28, 32, 36, 40, None, 48),
    ("tWR", 8): (12, 14, 16, 18, 20, 22, 24),
}
"""Source: the DDR4 table of ramulator2, an independent one; None: not in it."""


@pytest.mark.parametrize(("timing", "expected"), CLOCKS.items())
def test_ddr4_limits(timing: tuple[str, int], expected: tuple[int | None, ...]) -> None:
    """Clocks at every rate, from the ns of the data sheets."""
    name, width = timing
    for rate, clocks in zip(RATES, expected, strict=True):
        limit = limit_of(name, DDR4, rate, width)
        assert limit is not None
        assert clocks is None or limit.at(rate, DDR4) == clocks


def test_ddr4_rows_and_bursts() -> None:
    """tRAS: data sheet MT40A1G4, p. 331 (34 ns at 1866, 32 at 2400); bursts: JESD79-4."""
    at_1866, at_2400 = limit_of("tRAS", DDR4, 1866), limit_of("tRAS", DDR4, 2400)
    assert at_1866 is not None
    assert at_2400 is not None
    assert (at_1866.ps, at_2400.ps) == (34_000, 32_000)
    bursts = [limit_of("tCCD_S", standard, 3200) for standard in Standard]
    assert [limit and limit.clocks for limit in bursts] == [4, 8]
    assert [standard.burst_clocks for standard in Standard] == [4, 8]


def test_ddr5_limits_at_4800() -> None:
    """SPD bytes of AQD-D5V16GR48-SB (illumos libjedec tests): ps and the floors in clocks."""
    known = {
        "tRRD_L": (5000, 8),
        "tCCD_L": (5000, 8),
        "tCCD_L_WR": (20000, 32),
        "tCCD_L_WR2": (10000, 16),
        "tWTR_L": (10000, 16),
        "tWTR_S": (2500, 4),
        "tRTP": (7500, 12),
        "tWR": (30000, 0),
        "tRAS": (32000, 0),
    }
    limits = {name: limit_of(name, DDR5, 4800) for name in known}
    assert {name: limit and (limit.ps, limit.clocks) for name, limit in limits.items()} == known
    window = limit_of("tFAW", DDR5, 4800)
    assert window is not None
    assert window.clocks * clock_ps(4800) == pytest.approx(13_333, abs=32)


def test_beyond_the_tables() -> None:
    """Rates outside take the nearest row; a timing without a minimum has none; no odd chips."""
    assert limit_of("tFAW", DDR4, 4000) == limit_of("tFAW", DDR4, 3200)
    assert limit_of("tFAW", DDR4, 1333) == limit_of("tFAW", DDR4, 1600)
    assert limit_of("tRRD_S", DDR4, 3200, 32) == limit_of("tRRD_S", DDR4, 3200, 16)
    assert limit_of("tRP", DDR4, 3200) is None
    with pytest.raises(ValueError, match="chips of 3 data lines"):
        limit_of("tFAW", DDR4, 3200, 3)


@pytest.mark.parametrize(
    ("standard", "rate", "clocks", "ns"),
    [
        (DDR4, 1866, "12-12-12", 12.85),
        (DDR4, 1866, "13-13-13", 13.92),
        (DDR4, 1866, "14-14-14", 15.0),
        (DDR4, 2400, "15-15-15", 12.5),
        (DDR4, 2400, "16-16-16", 13.32),
        (DDR4, 2400, "17-17-17", 14.16),
        (DDR4, 2666, "19-19-19", 14.25),
        (DDR4, 3200, "22-22-22", 13.75),
        (DDR5, 4800, "40-39-39", 16.0),
    ],
)
def test_speed_bins(standard: Standard, rate: int, clocks: str, ns: float) -> None:
    """Data sheet MT40A1G4 p. 331 and 333, AS4C256M16D4 p. 181; SPD bytes for 3200 and 4800."""
    found = {each.clocks: each for each in BINS[standard][rate]}
    assert found[clocks].aa_ps == ns * 1000
    assert found[clocks].cl * clock_ps(rate) >= ns * 1000 * 0.9995  # its clocks last its time


def test_refresh_by_density() -> None:
    """DDR4: data sheet MT40A256M16GE p. 354 (2 Gb from memory); DDR5: JESD79-5 table 282."""
    ddr4 = {size: tuple(table.values()) for size, table in REFRESH_NS[DDR4].items()}
    assert ddr4 == {2: (160,), 4: (260, 160, 110), 8: (350, 260, 160), 16: (550, 350, 260)}
    ddr5 = {size: (table["tRFC"], table["tRFCsb"]) for size, table in REFRESH_NS[DDR5].items()}
    assert ddr5 == {8: (195, 115), 16: (295, 130)}


def test_refresh_interval_by_temperature() -> None:
    """7.8 us to 85 C, 3.9 to 95, 1.95 to 105, 0.975 to 125: data sheet MT40A256M16GE p. 354."""
    at = {c: refresh_interval_ps(DDR4, c) / 1e6 for c in (-40, 85, 85.1, 95, 96, 105, 106, 125)}
    assert list(at.values()) == [7.8, 7.8, 3.9, 3.9, 1.95, 1.95, 0.975, 0.975]
    assert refresh_interval_ps(DDR5) == 3_900_000
    for nonsense in (126.0, float("nan")):
        with pytest.raises(ValueError, match="expected at most 125"):
            refresh_interval_ps(DDR4, nonsense)


@pytest.mark.parametrize(
    ("recovery", "interval", "percent"),
    [
        (260, 7800, 3.333),
        (350, 7800, 4.487),
        (550, 7800, 7.051),
        (350, 3900, 8.974),
        (295, 3900, 7.564),
    ],
)
def test_refresh_share(recovery: float, interval: float, percent: float) -> None:
    """tRFC / tREFI; arithmetic on the tables above."""
    assert refresh_share(recovery, interval) * 100 == pytest.approx(percent, abs=5e-4)


def test_no_share_of_nothing() -> None:
    """An interval must pass."""
    with pytest.raises(ValueError, match="more than 0"):
        refresh_share(350, 0)
