"""Words on values above ceilings: none is named that nobody filled in."""

from typing import Any

import pytest

from planner import Study
from planner.report.text.recorded import flags
from tests.study.makers import bench_tables

BLANK = "above stock, and no everyday ceiling is filled in"
EVERYDAY, LAST, STOP = "above the everyday ceiling", "PAST THE LAST CEILING", "PAST THE HARD STOP"


@pytest.mark.parametrize(
    ("ceilings", "volts", "word"),
    [
        ({}, 1.2, None),
        ({}, 1.3, BLANK),
        ({"hard_stop": 1.25}, 1.25, BLANK),
        ({"hard_stop": 1.25}, 1.3, STOP),
        ({"own_risk": 1.25}, 1.25, BLANK),
        ({"own_risk": 1.25}, 1.3, LAST),
        ({"everyday": 1.25}, 1.3, LAST),
        ({"everyday": 1.25, "own_risk": 1.3}, 1.3, EVERYDAY),
        ({"everyday": 1.25, "hard_stop": 1.3}, 1.3, EVERYDAY),
        ({"everyday": 1.25, "hard_stop": 1.28}, 1.3, STOP),
    ],
)
def test_the_ceiling_that_was_passed_is_named(
    ceilings: dict[str, float], volts: float, word: str | None
) -> None:
    """A hard stop only where one is given; stock is 1.2 V."""
    tables: dict[str, Any] = bench_tables()
    knob = next(knob for knob in tables["knob"] if knob["name"] == "volts")
    for name in ("everyday", "own_risk", "hard_stop"):
        knob.pop(name, None)
    knob |= ceilings
    study = Study.create(tables)
    run = study.record("pass", settings={"volts": volts})
    said = flags(run, study.history.definition)
    wanted = [] if word is None else [f"volts {volts:g} V is {word} (recorded, not refused)."]
    assert said == wanted
