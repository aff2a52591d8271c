"""Which of two timings binds, and sets at other data rates."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.domain.memory import Standard
from planner.trade.timing.names import TIMINGS
from planner.trade.timing.relations import bindings
from planner.trade.timing.timings import Timings

NAMES = [name for name in TIMINGS if name != "tREFI"]
sets = st.dictionaries(st.sampled_from(NAMES), st.integers(1, 900))


def test_bins_have_row_cycles_of_their_sum() -> None:
    """tRC = tRAS + tRP in every bin (data sheet MT40A1G4 p. 331): 52 + 22 = 74 at 3200 MT/s."""
    (found,) = bindings({"tRC": 74, "tRAS": 52, "tRP": 22})
    assert (found.clocks, found.by_sum) == (74, False)


@given(sets)
def test_the_longer_side_passes(clocks: dict[str, int]) -> None:
    """By hand: each sum of what is given, and the longer of it and the timing."""
    sums = {
        "tRC": ("tRAS", "tRP"),
        "tRAS": ("tRCD", "tRTP"),
        "tFAW": ("tRRD_S",) * 4,
        "tRRD_L": ("tRRD_S",),
        "tCCD_L": ("tCCD_S",),
        "tWTR_L": ("tWTR_S",),
    }
    expected = {
        timing: max(clocks[timing], sum(clocks[name] for name in names))
        for timing, names in sums.items()
        if {timing, *names} <= clocks.keys()
    }
    assert {found.relation.timing: found.clocks for found in bindings(clocks)} == expected


@given(sets, st.sampled_from(Standard), st.sampled_from([3200, 4800, 6000, 6400]))
def test_another_rate_keeps_times_and_counts(
    clocks: dict[str, int], standard: Standard, rate: float
) -> None:
    """Times last as long or up to a clock longer (two for an even tCL); counts stand still."""
    here = Timings(standard, 5600, clocks)
    there = here.at(rate)
    for name, count in here.clocks.items():
        if TIMINGS[name].is_time:
            clock = 2000 / rate
            assert there.ns(name) >= here.ns(name) - 1e-9
            assert there.ns(name) < here.ns(name) + (2 if name == "tCL" else 1) * clock + 1e-9
        else:
            assert there.clocks[name] == count
    assert here.at(5600) == here


def test_ddr5_keeps_even_latencies() -> None:
    """JESD400-5 has a bit for each even latency only: 30 at 6000 is 27 at 5400, so 28."""
    assert Timings(Standard.DDR5, 6000, {"tCL": 30}).at(5400).clocks == {"tCL": 28}
    assert Timings(Standard.DDR4, 3200, {"tCL": 22}).at(3000).clocks == {"tCL": 21}


def test_what_is_below_the_standard() -> None:
    """DDR4-3200: tFAW 34 clocks with x8 chips (ramulator2 table), 48 with x16."""
    found = Timings(Standard.DDR4, 3200, {"tFAW": 34, "tRAS": 40, "tCL": 10})
    assert dict(found.below_standard()) == {"tRAS": 52}
    assert dict(found.below_standard(16)) == {"tRAS": 52, "tFAW": 48}


@pytest.mark.parametrize(
    ("rate", "clocks", "named"),
    [
        (399, {}, "data rate = 399"),
        (float("nan"), {}, "data rate = nan"),
        (6000, {"tCL": 0}, "tCL = 0"),
        (6000, {"tCL": 1_000_001}, "tCL = 1000001"),
        (6000, {"tXX": 4}, "tXX: no timing known"),
    ],
)
def test_nonsense_is_refused(rate: float, clocks: dict[str, int], named: str) -> None:
    """The message names the value."""
    with pytest.raises(ValueError, match=named):
        Timings(Standard.DDR5, rate, clocks)
