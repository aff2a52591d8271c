"""Cooling below the room: dew, and a low edge of its own."""

from typing import Any

import pytest

from planner import Study
from planner.gate import gate_of
from tests.domain.makers import clock, tables

COOLANT = {"name": "coolant", "unit": "C", "low": -30, "high": 30, "step": 5, "stock": 25}
COOLANT |= {"harder": "up", "supports": ["clock"], "cools": True}
READINGS = [{"name": "room", "unit": "C"}, {"name": "humidity", "unit": "%"}]


def study_of(**changes: Any) -> Study:
    given = {"study": {"knob": "clock"}, "reading": READINGS, **changes}
    return Study.create(tables(clock(), COOLANT, **given))


def run(study: Study, coolant: float, outcome: str = "pass", **readings: float) -> None:
    study.record(outcome, settings={"clock": 4200.0, "coolant": coolant}, readings=readings)


def coldest(study: Study) -> float:
    """The coldest value of the coolant that may be proposed."""
    knob = study.history.definition.knobs["coolant"]
    return min(map(float, gate_of(study.history).permitted_values(knob, {"clock": 4200.0})))


def test_not_colder_than_stock_in_an_unknown_room() -> None:
    """Nothing is known of the air."""
    study = study_of()
    assert coldest(study) == 25
    (why,) = gate_of(study.history).objections({"clock": 4200.0, "coolant": 20.0})
    assert "room temperature and humidity are not recorded" in why


def test_not_colder_than_the_room_without_its_humidity() -> None:
    """At 19 °C the steps of 5 leave 20."""
    study = study_of()
    run(study, 25.0, room=19.0)
    assert coldest(study) == 20
    (why,) = gate_of(study.history).objections({"clock": 4200.0, "coolant": 15.0})
    assert "colder than the room, 19 C, and its humidity is not recorded" in why


def test_down_to_the_dew_point_and_a_margin() -> None:
    """Room 20 °C at 52.5 %: steam tables put the dew point at 10 °C (12.28 / 23.39 hPa), and 3 °C
    above it the steps leave 15; dry air at 5 % leaves -15."""
    study = study_of()
    run(study, 25.0, room=20.0, humidity=52.5)
    assert coldest(study) == 15
    (why,) = gate_of(study.history).objections({"clock": 4200.0, "coolant": 10.0})
    assert "less than 3 C above the dew point, 10 C: water may settle" in why
    run(study, 25.0, room=20.0, humidity=5)
    assert coldest(study) == -15


@pytest.mark.parametrize("humidity", [0.45, 0.0, 140.0])
def test_a_slip_of_humidity_is_no_dry_air(humidity: float) -> None:
    """0.45 for 45 % would put the dew point at -40 °C: then it is as if not recorded."""
    study = study_of()
    run(study, 25.0, room=20.0, humidity=humidity)
    assert coldest(study) == 20
    (why,) = gate_of(study.history).objections({"clock": 4200.0, "coolant": 15.0})
    assert f"humidity was recorded as {humidity:g}, expected per cent, 2 to 100" in why


def test_a_told_change_forgets_the_air() -> None:
    """Another room has other air."""
    study = study_of()
    run(study, 25.0, room=20.0, humidity=30)
    study.changed("moved to the cellar")
    assert coldest(study) == 25


@pytest.mark.parametrize("outcome", ["crash", "no-start"])
def test_a_low_edge_of_its_own(outcome: str) -> None:
    """It failed at -10 °C where the same setting held at 0 °C: from there down it is closed, until
    something holds as cold."""
    study = study_of()
    run(study, 0.0, room=20.0, humidity=3)
    assert coldest(study) <= -15
    run(study, -10.0, outcome)
    assert coldest(study) == -5
    why = gate_of(study.history).objections({"clock": 4000.0, "coolant": -15.0})
    assert any("a low edge of its own" in said for said in why)
    run(study, -15.0)
    assert coldest(study) <= -15


def test_a_failure_at_a_harder_clock_is_no_low_edge() -> None:
    """Only the same setting, warmer, speaks of cold."""
    study = study_of()
    run(study, 0.0, room=20.0, humidity=3)
    study.record("crash", settings={"clock": 4800.0, "coolant": -10.0})
    assert coldest(study) <= -15


def test_a_coolant_is_no_voltage_and_colder_is_not_hotter() -> None:
    """It supports a clock, yet needs no ceiling; and a hot run closes nothing that is colder."""
    hot = [*READINGS, {"name": "hot", "unit": "C", "stop": 90}]
    study = study_of(reading=hot)
    run(study, 25.0, room=20.0, humidity=5)
    run(study, 25.0, hot=95)
    gate = gate_of(study.history)
    assert not gate.permits({"clock": 4200.0, "coolant": 25.0})
    assert not gate.permits({"clock": 4200.0, "coolant": 30.0})
    assert gate.permits({"clock": 4200.0, "coolant": 0.0})
    assert "coolant" not in gate.ceilings
