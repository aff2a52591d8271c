"""What readings bar, as the next run tells it."""

from typing import Any

from planner import Study
from planner.report.text.outlook import barred_rows
from tests.forecast.bench import heat_tables


def told(**study: Any) -> list[tuple[str, str]]:
    """A hotspot that rises by 6 K for each 100 MHz and stops at 95."""
    made = Study.create(heat_tables(study={"name": "heat", **study}))
    for clock, hotspot in ((4200.0, 70.0), (4300.0, 76.0), (4400.0, 82.0), (4500.0, 88.0)):
        readings = {"hotspot": hotspot, "room": 22.0}
        made.record("pass", settings={"clock": clock}, readings=readings, score=clock)
    return barred_rows(made.history, {"clock": 4500.0, "volts": 1.2})


def test_the_first_barred_value_is_the_nearest() -> None:
    """Of the searched knob, with how many lie past it."""
    (row,) = told(knob="clock")
    assert row[0] == "Barred"
    first = float(row[1].split(" MHz")[0])
    assert f"and {(5200 - first) / 50:.0f} more: hotspot would read" in row[1]


def test_a_peak_attempt_names_each_knob() -> None:
    """It turns them all; of a voltage that helps, the nearest rise is told."""
    rows = told(aim="peak")
    assert [label for label, _ in rows] == ["Barred", ""]
    assert [text.split()[0] for _, text in rows] == ["clock", "volts"]
    assert 1.2 < float(rows[1][1].split()[1]) < 1.4
