"""Forecasts of readings on machines whose heat follows no straight line, and what they forbid."""

from dataclasses import dataclass

import numpy as np
import pytest

from planner import Study
from planner.forecast.readings import LIKELY, forecast_readings
from planner.gate import gate_of
from tests.forecast.bench import heat_tables, machine, tell

STOP = 95.0


@dataclass
class Tally:
    """What forecasts came to over many machines."""

    inside: list[bool]
    wall_inside: list[bool]
    missed: int = 0
    needless: int = 0


def played(seeds: range) -> Tally:
    """Two to eight runs near stock, then forecasts up to 900 MHz and 0.25 V beyond it."""
    tally = Tally([], [])
    for seed in seeds:
        rng = np.random.default_rng(seed)
        nature, study = machine(rng), Study.create(heat_tables())
        room = float(rng.uniform(18, 26))
        for _ in range(int(rng.integers(2, 9))):
            clock, volts = 4200 + 50 * int(rng.integers(0, 8)), int(rng.integers(115, 128)) / 100
            tell(study, nature, (float(clock), volts), room, rng)
        for _ in range(4):
            clock, volts = 4200 + 50 * int(rng.integers(0, 18)), int(rng.integers(112, 145)) / 100
            found = forecast_readings(study.history, {"clock": float(clock), "volts": volts})
            celsius, watts = nature.truth(clock, volts, round(room, 1))
            seen = celsius + float(rng.normal(0, nature.noise))
            hot, wall = found["hotspot"], found["wall"]
            tally.inside.append(hot.low <= seen <= hot.high)
            tally.wall_inside.append(wall.low <= watts * rng.normal(1.08, 0.01) <= wall.high)
            tally.missed += celsius > STOP and hot.past_stop <= LIKELY
            tally.needless += celsius < STOP and hot.past_stop > LIKELY
    return tally


@pytest.mark.slow
def test_intervals_hold_what_they_promise() -> None:
    """On machines drawn from seeds that chose nothing: 90 % intervals cover at least 85 %, nearly
    all settings past the stop are refused, and few others."""
    tally = played(range(10_000, 10_300))
    assert 0.85 <= np.mean(tally.inside) <= 0.97
    assert 0.85 <= np.mean(tally.wall_inside) <= 0.99
    assert tally.missed / len(tally.inside) < 0.015
    assert tally.needless / len(tally.inside) < 0.05


@pytest.mark.parametrize("seed", range(6))
def test_no_proposal_is_likely_to_pass_a_stop(seed: int) -> None:
    """A machine whose clock holds far beyond what its heat allows: the search stays under the
    stop, with at most one reading past it, and still climbs to within 6 K of it."""
    rng = np.random.default_rng(20_000 + seed)
    nature, study = machine(rng), Study.create(heat_tables(), "memory")
    room, hottest, past = 22.0, 0.0, 0
    for _ in range(40):
        proposal = study.next()
        if proposal is None:
            break
        forecast = forecast_readings(study.history, proposal.settings)
        assert all(found.past_stop <= LIKELY for found in forecast.values())
        clock, volts = (float(proposal.settings[n]) for n in ("clock", "volts"))
        celsius, watts = nature.truth(clock, volts, room)
        hottest = max(hottest, celsius)
        past += celsius > STOP + 1
        readings = {"hotspot": round(celsius, 1), "room": room, "wall": round(watts)}
        study.record("pass", number=proposal.number, readings=readings)
    assert past <= 1
    top, _ = nature.truth(5200.0, 1.2, room)
    assert hottest > min(top, STOP) - 6


def test_the_reason_is_told() -> None:
    """Reading, figure, interval, stop and chance."""
    rng = np.random.default_rng(1)
    study = Study.create(heat_tables())
    nature = machine(rng)
    stop = nature.truth(4600.0, 1.2, 22.0)[0]
    readings = [
        {"name": "hotspot", "unit": "C", "stop": round(stop)},
        {"name": "room", "unit": "C"},
    ]
    study = Study.create(heat_tables(reading=readings))
    for clock in (4200.0, 4300.0, 4400.0):
        tell(study, nature, (clock, 1.2), 22.0, rng)
    (why,) = gate_of(study.history).objections({"clock": 5100.0, "volts": 1.2})
    assert why.startswith("hotspot would read ")
    assert f"pass its stop of {round(stop)} C with" in why
    assert gate_of(study.history).permits({"clock": 4400.0, "volts": 1.2})


def told(*runs: tuple[float, float, float], **changes: object) -> Study:
    """Runs as clock, hotspot and room."""
    study = Study.create(heat_tables(**changes))
    for clock, hotspot, room in runs:
        study.record("pass", settings={"clock": clock}, readings={"hotspot": hotspot, "room": room})
    return study


def test_nothing_is_forecast_from_one_run_nor_across_a_change() -> None:
    """Two runs since the last told change are the least."""
    study = told((4200.0, 70.0, 22.0))
    assert forecast_readings(study.history, study.history.definition.stock) == {}
    study = told((4200.0, 70.0, 22.0), (4300.0, 72.0, 22.0))
    assert forecast_readings(study.history, study.history.definition.stock) != {}
    study.changed("new cooler")
    assert forecast_readings(study.history, study.history.definition.stock) == {}


def test_a_warmer_room_warms_the_forecast() -> None:
    """By as much, from the last reading of the room."""
    runs = [(4200.0, 70.0, 20.0), (4300.0, 72.0, 20.0), (4400.0, 74.0, 20.0)]
    cool, warm = told(*runs), told(*runs, (4400.0, 80.0, 26.0))
    setting = {"clock": 4500.0, "volts": 1.2}
    found = [forecast_readings(s.history, setting)["hotspot"].value for s in (cool, warm)]
    assert found[1] - found[0] == pytest.approx(6, abs=0.5)


def by_resistance(watts: float, kelvin_per_watt: float, room: float, *clocks: float) -> Study:
    """Runs of a part whose heat all leaves through one resistance; watts at the stock clock."""
    runs = [(c, round(room + kelvin_per_watt * watts * c / 4200, 1), room) for c in clocks]
    return told(*runs)


def test_a_part_behind_a_thermal_resistance() -> None:
    """T = 25 + 95 W x 0.5 K/W = 72.5 °C (JESD51 form): 95 W at 5000 MHz, seen up to 4600."""
    study = by_resistance(95 * 4200 / 5000, 0.5, 25.0, 4200, 4300, 4400, 4500, 4600)
    found = forecast_readings(study.history, {"clock": 5000.0, "volts": 1.2})["hotspot"]
    assert found.value == pytest.approx(72.5, abs=0.6)
    assert found.low < 72.5 < found.high


def test_the_power_that_a_stop_leaves() -> None:
    """(95 - 30) / 0.4 = 162.5 W (JESD51 form), drawn at 4875 MHz: past it the middle is past 95."""
    study = by_resistance(140, 0.4, 30.0, *range(4200, 4850, 50))
    for clock, over in ((4800.0, False), (4950.0, True)):
        found = forecast_readings(study.history, {"clock": clock, "volts": 1.2})["hotspot"]
        assert (found.value > 95) is over
        assert (found.past_stop > 0.5) is over


def test_failed_short_and_other_runs_teach_nothing() -> None:
    """A crash is not warmed through; nor is a run that was stopped at once."""
    study = told((4200.0, 70.0, 22.0))
    study.record("crash", settings={"clock": 4300.0}, readings={"hotspot": 60.0, "room": 22.0})
    study.record(
        "stopped", settings={"clock": 4300.0}, run_minutes=1, readings={"hotspot": 60, "room": 22}
    )
    assert forecast_readings(study.history, study.history.definition.stock) == {}


def test_volts_and_the_room_are_not_forecast() -> None:
    """Only what follows the load: temperatures, watts, amperes."""
    readings = [{"name": "loaded", "unit": "V", "stop": 1.3}, {"name": "room", "unit": "C"}]
    study = Study.create(heat_tables(reading=readings))
    for _ in range(3):
        readings_now = {"loaded": 1.19, "room": 22.0}
        study.record("pass", settings={"clock": 4200.0}, readings=readings_now)
    assert forecast_readings(study.history, study.history.definition.stock) == {}
