"""Rounding between nanoseconds and clocks, against the standards' rules and published clocks."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.domain.memory import Standard
from planner.trade.timing.clocks import (
    clock_ps,
    least_clocks,
    most_clocks,
    nanoseconds,
    same_time,
    true_rate,
)
from planner.trade.timing.pace import peak_gigabytes, waits

DDR4_RATES = (1600, 1866, 2133, 2400, 2666, 2933, 3200)
DDR4_CLOCKS = (1250, 1071, 937, 833, 750, 682, 625)
times = st.integers(0, 2_000_000)
clock = st.integers(200, 1600)
standards = st.sampled_from(Standard)
rates = st.sampled_from([*DDR4_RATES, 3600, 4000, 4800, 5600, 6000, 6400, 7200, 8000])


def test_the_clock_is_cut_to_whole_picoseconds() -> None:
    """DDR4: speed bin tables of the data sheet MT40A1G4, p. 331; DDR5: SPD bytes of 4800 parts."""
    assert tuple(map(clock_ps, DDR4_RATES)) == DDR4_CLOCKS
    assert [clock_ps(rate) for rate in (4800, 5600, 6400)] == [416, 357, 312]


def test_ddr4_write_recovery() -> None:
    """tWR 15 ns. Source: nWR of the DDR4 table in ramulator2; a plain ceiling gives 15, 17, 19."""
    found = [least_clocks(15_000, clock, Standard.DDR4) for clock in DDR4_CLOCKS]
    assert found == [12, 14, 16, 18, 20, 22, 24]


@pytest.mark.parametrize(
    ("ns", "expected"),
    [
        (350, [280, 327, 374, 421, 467, 514, 560]),
        (260, [208, 243, 278, 313, 347, 382, 416]),
        (550, [440, 514, 587, 661, 734, 807, 880]),
    ],
)
def test_ddr4_refresh_clocks(ns: int, expected: list[int]) -> None:
    """tRFC by the rule of JEDEC No. 21-C 4.1.2.L; computed once from it, to notice a change."""
    assert [least_clocks(ns * 1000, c, Standard.DDR4) for c in DDR4_CLOCKS] == expected


def test_ddr5_4800() -> None:
    """Minimum times of a 16 Gb DDR5-4800 data sheet; the bin 40-39-39 is from memory.

    A plain ceiling would give 41, 73 and 710 for the first, fifth and last.
    """
    ps = (16_666, 16_000, 32_000, 48_000, 30_000, 295_000)
    found = [least_clocks(time, 416, Standard.DDR5) for time in ps]
    assert found == [40, 39, 77, 116, 72, 708]


@pytest.mark.parametrize(
    ("clocks", "expected"), [(1, 1), (333, 333), (334, 333), (500, 499), (1000, 998)]
)
def test_ddr5_drops_a_third_of_a_hundredth(clocks: int, expected: int) -> None:
    """Exact multiples of the clock, where 0.3 % reaches one; by the rule of JESD400-5."""
    assert least_clocks(clocks * 416, 416, Standard.DDR5) == expected


def test_a_maximum_rounds_down() -> None:
    """tREFI 7.8 us in DDR4 and 3.9 us in DDR5; arithmetic."""
    found = [most_clocks(7_800_000, clock) for clock in DDR4_CLOCKS]
    assert found == [6240, 7282, 8324, 9363, 10400, 11436, 12480]
    ddr5 = {3200: 6240, 4800: 9375, 5600: 10924, 6400: 12500}
    assert {rate: most_clocks(3_900_000, clock_ps(rate)) for rate in ddr5} == ddr5


@pytest.mark.parametrize(
    ("rate", "latency", "ns"),
    [
        (3200, 22, 13.75),
        (3200, 16, 10.0),
        (3200, 14, 8.75),
        (3600, 16, 8.888889),
        (2666, 19, 14.253563),
        (4800, 40, 16.666667),
        (6000, 30, 10.0),
        (6400, 32, 10.0),
    ],
)
def test_true_latency(rate: int, latency: int, ns: float) -> None:
    """2000 x CL / rate: the definition of the clock; common practice, no source."""
    assert nanoseconds(latency, rate) == pytest.approx(ns, abs=5e-7)


def test_peak_bandwidth() -> None:
    """Module names after their GB/s (25600 is 3200 MT/s): JEDEC module names, from memory."""
    known = {1600: 12.8, 2400: 19.2, 3200: 25.6, 3600: 28.8, 4800: 38.4, 5600: 44.8, 6400: 51.2}
    assert {rate: peak_gigabytes(rate) for rate in known} == pytest.approx(known)
    assert peak_gigabytes(2666) == pytest.approx(21.328)
    with pytest.raises(ValueError, match="expected both above 0"):
        peak_gigabytes(0)


def test_waits_add_up() -> None:
    """DDR4-3200 22-22-22: 13.75, 27.5 and 41.25 ns; only what the timings given tell of."""
    told = waits({"tCL": 22, "tRCD": 22, "tRP": 22})
    assert [nanoseconds(n, 3200) for n in told.values()] == [13.75, 27.5, 41.25]
    assert waits({"tCL": 22, "tRP": 22}) == {"open row": 22}


@given(st.integers(0, 333), clock, standards)
def test_clocks_survive_the_way_through_time(n: int, clock: int, standard: Standard) -> None:
    """n clocks as a time are n clocks again, as long as 0.3 % is less than one."""
    assert least_clocks(n * clock, clock, standard) == n or (n == 0 and standard is Standard.DDR5)


@given(st.integers(0, 100_000), clock)
def test_ddr4_clocks_survive_at_any_length(n: int, clock: int) -> None:
    """The DDR4 rule drops a share of one clock, not of the time."""
    assert least_clocks(n * clock, clock, Standard.DDR4) == n


@given(times, clock, standards, st.integers(0, 50))
def test_never_below_the_minimum(ps: int, clock: int, standard: Standard, floor: int) -> None:
    """The clocks last the time less what the standard lets go, and never a clock too many."""
    found = least_clocks(ps, clock, standard, floor)
    let_go = 0.026 * clock if standard is Standard.DDR4 else 0.003 * ps + 0.001 * clock
    assert found * clock >= ps - let_go - 1e-6
    assert found >= floor
    assert found == floor or (found - 1) * clock <= ps


@given(times, times, st.sampled_from(range(400, 9000, 100)), standards)
def test_more_time_or_a_higher_rate_never_takes_fewer(
    ps: int, more: int, rate: int, standard: Standard
) -> None:
    """Monotone in time and in data rate."""
    least = least_clocks(ps, clock_ps(rate), standard)
    assert least_clocks(ps + more, clock_ps(rate), standard) >= least
    assert least_clocks(ps, clock_ps(rate + 100), standard) >= least


@given(times, clock)
def test_a_maximum_is_never_exceeded(ps: int, clock: int) -> None:
    """And one clock more would."""
    found = most_clocks(ps, clock)
    assert found * clock <= ps < (found + 1) * clock


@given(st.integers(1, 70_000), rates, rates)
def test_the_same_time_elsewhere(clocks: int, rate: int, at: int) -> None:
    """At least as long, by less than a clock; back again at most one clock longer; a maximum no
    longer; at the same rate the same.
    """
    there, exact = same_time(clocks, rate, at), clocks * true_rate(at) / true_rate(rate)
    assert exact <= there < exact + 1
    assert same_time(clocks, rate, at, maximum=True) <= exact
    assert same_time(clocks, rate, rate) == clocks
    if at >= rate:
        assert clocks <= same_time(there, at, rate) <= clocks + 1


@pytest.mark.parametrize(
    ("clocks", "rate", "at", "expected"),
    [(20, 2666, 3200, 24), (24, 3200, 2666, 20), (14, 1866, 2133, 16), (18, 2400, 2933, 22)],
)
def test_named_rates_are_thirds(clocks: int, rate: int, at: int, expected: int) -> None:
    """tWR 15 ns, one row of the rounding table above, from one rate to another."""
    assert same_time(clocks, rate, at) == expected


def test_nonsense_is_refused() -> None:
    """Times below 0, clocks and rates of 0."""
    with pytest.raises(ValueError, match="time = -1 ps: expected 0 or more"):
        least_clocks(-1, 416, Standard.DDR5)
    with pytest.raises(ValueError, match="clock = 0 ps"):
        most_clocks(1, 0)
    for rate in (0, -1, 3e6):
        with pytest.raises(ValueError, match="data rate"):
            clock_ps(rate)
    with pytest.raises(ValueError, match="data rate"):
        nanoseconds(1, 0)
    with pytest.raises(ValueError, match="data rates"):
        same_time(1, 0, 1)
