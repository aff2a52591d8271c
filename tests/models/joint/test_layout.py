"""In which coordinate each knob can fail."""

from typing import Any

import pytest

from planner import Study
from planner.models.joint.layout import Layout, layout_of


def laid_out(knobs: list[dict[str, Any]], derived: list[dict[str, Any]] | None = None) -> Layout:
    """The layout of a study with these knobs."""
    tables = {"knob": knobs, "workload": [{"name": "loop"}]}
    if derived:
        tables["derived"] = derived
    return layout_of(Study.create(tables).history.definition)


RATE = {"name": "rate", "group": "memory", "unit": "MT/s", "low": 5600, "high": 8000, "step": 100}
RATE |= {"stock": 6000}
CAS = {"name": "tCL", "group": "memory", "unit": "clocks", "low": 24, "high": 40, "step": 1}
CAS |= {"stock": 36, "harder": "down"}
TURN = {**CAS, "name": "turnaround_rd_wr"}


def test_a_timing_in_clocks_is_as_hard_as_its_time() -> None:
    """36 clocks at 7200 MT/s take the 10 ns that 30 take at 6000 (2000 x clocks / rate)."""
    layout = laid_out([RATE, CAS])
    fast, tight = layout.coordinates([{"rate": 7200, "tCL": 36}, {"rate": 6000, "tCL": 30}])
    assert fast[1] == pytest.approx(tight[1])
    assert fast[0] > tight[0]


def test_a_turnaround_stays_a_count_of_clocks() -> None:
    """It does not tighten with the rate (common practice, no source)."""
    layout = laid_out([RATE, TURN])
    slow, fast = layout.coordinates(
        [{"rate": 6000, "turnaround_rd_wr": 30}, {"rate": 7200, "turnaround_rd_wr": 30}]
    )
    assert slow[1] == fast[1]


@pytest.mark.parametrize(("name", "moves"), [("tRTW", False), ("tRCD", True), ("my_gap", True)])
def test_names_of_the_standards_tell_counts_from_times(name: str, moves: bool) -> None:
    """By the one table of timings; a name of the person's own counts as a time."""
    layout = laid_out([RATE, {**CAS, "name": name}])
    slow, fast = layout.coordinates([{"rate": 6000, name: 30}, {"rate": 7200, name: 30}])
    assert (slow[1] != fast[1]) == moves


def test_a_ratio_feels_the_base_clock_that_multiplies_it() -> None:
    """50 x 102 is as hard as 51 x 100."""
    base = {"name": "base", "unit": "MHz", "low": 98, "high": 104, "step": 0.5, "stock": 100}
    ratio = {"name": "ratio", "low": 40, "high": 60, "step": 1, "stock": 48}
    derived = [{"name": "core_clock", "unit": "MHz", "product": ["base", "ratio"]}]
    layout = laid_out([base, ratio], derived)
    place = layout.names.index("ratio")
    rows = layout.coordinates([{"base": 102, "ratio": 50}, {"base": 100, "ratio": 51}])
    assert rows[0, place] == pytest.approx(rows[1, place])


def test_stock_and_the_hardest_value_are_the_ends_of_the_way() -> None:
    """Whichever way is harder, with the rate at stock."""
    layout = laid_out([RATE, CAS])
    stock, hardest = layout.coordinates([{"rate": 6000, "tCL": 36}, {"rate": 8000, "tCL": 24}])
    assert [risk.stock for risk in layout.risks] == pytest.approx(list(stock))
    assert hardest[0] == pytest.approx(1.0)
    assert layout.coordinates([{"rate": 6000, "tCL": 24}])[0, 1] == pytest.approx(1.0)


def supported(unit: str, stock: float) -> float:
    """The likely gain of a clock from a voltage that may rise by a tenth, in spans."""
    clock = {"name": "clock", "unit": "MHz", "low": 4000, "high": 5000, "step": 50, "stock": 4200}
    volts = {"name": "volts", "unit": unit, "low": stock, "stock": stock, "harder": "down"}
    volts |= {"high": round(1.25 * stock, 3), "step": round(stock / 20, 3)}
    volts |= {"supports": ["clock"], "everyday": round(1.1 * stock, 3)}
    return laid_out([clock, volts]).risks[0].gain[0]


def test_a_voltage_helps_by_the_alpha_power_law() -> None:
    """In volts or millivolts alike, and less the higher it is: a V / (V - Vt) - 1 falls."""
    low, same, high = supported("V", 0.8), supported("mV", 800), supported("V", 1.4)
    assert same == pytest.approx(low)
    assert (low / high) ** 2 == pytest.approx((1.3 * 0.8 / 0.45 - 1) / (1.3 * 1.4 / 1.05 - 1))
