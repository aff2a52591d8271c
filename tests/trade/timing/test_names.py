"""Which timings are times, and how they are spelled."""

import pytest

from planner.trade.timing.names import TIMINGS, stays_in_clocks, timing_named

TIMES = (
    "tCL CL tcas tAA tRCD tRP tRAS tRC tRFC trfc2 tRFCsb tREFI tFAW tRRDS tRRD_S tRRDL tWR tRTP"
    " tWTRS tWTR_L tCWL tCCD_L"
)
NO_TIMES = (
    "CR command_rate tCR tRTW tRDWR tWRRD tRDRD_SC tRDRDSD tWRWR_DD tCCD_S tMRD"
    " core_ratio data_rate memory_voltage"
)


@pytest.mark.parametrize("name", TIMES.split())
def test_times(name: str) -> None:
    """Given in ns by JESD79-4 and JESD79-5, or bound to one that is (tCWL, two below tCL)."""
    timing = timing_named(name)
    assert timing is not None
    assert timing.is_time


@pytest.mark.parametrize("name", ["", *NO_TIMES.split()])
def test_plain_counts_and_what_is_no_timing(name: str) -> None:
    """Turnarounds and command rate: common practice, no source; tCCD_S is one burst (JESD79-4)."""
    timing = timing_named(name)
    assert timing is None or not timing.is_time


def test_no_spelling_is_of_two_timings() -> None:
    """Each is found under its own name and every other spelling."""
    for timing in TIMINGS.values():
        assert all(timing_named(s) is timing for s in (timing.name, *timing.spellings))
    assert [t.name for t in TIMINGS.values() if t.is_maximum] == ["tREFI"]


@pytest.mark.parametrize("name", ["tRTW", "tWRRD", "tCR", "command_rate", "turnaround_rd_wr"])
def test_plain_counts_stay_in_clocks(name: str) -> None:
    """Turnarounds and command rate, by any spelling (common practice, no source)."""
    assert stays_in_clocks(name)


@pytest.mark.parametrize("name", ["tCL", "tRFC", "tRDRD_SCL", "cas_latency", "row_to_column"])
def test_other_clocks_count_as_times(name: str) -> None:
    """Those of the standards that have a column in ns, and names of a person's own."""
    assert not stays_in_clocks(name)
