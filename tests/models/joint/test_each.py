"""Knobs of like units: one for each, their edges pulled together as far as runs leave open."""

from typing import Any

import numpy as np
import pytest

from planner import Study
from planner.errors import DefinitionError
from planner.gate import gate_of
from planner.models.joint.posterior import joint_posterior


def tables(each: int = 4, **clock: Any) -> dict[str, Any]:
    """Cores with a clock and a voltage each."""
    ratio = {"name": "ratio", "low": 40, "high": 60, "step": 0.5, "stock": 44, "each": each}
    ratio |= {"group": "core", "where": "live", **clock}
    volts = {"name": "volts", "unit": "V", "low": 1.0, "high": 1.4, "step": 0.01, "stock": 1.2}
    volts |= {"harder": "down", "supports": ["ratio"], "group": "core", "where": "live"}
    workload = {"name": "loop", "minutes": 10, "scored": True}
    return {"study": {"aim": "peak"}, "knob": [ratio, volts], "workload": [workload]}


def test_each_unit_has_a_knob() -> None:
    """Named by its number; a common support supports all, a support for each its own unit's."""
    knobs = Study.create(tables()).history.definition.knobs
    assert list(knobs) == ["ratio_1", "ratio_2", "ratio_3", "ratio_4", "volts"]
    assert knobs["volts"].supports == ("ratio_1", "ratio_2", "ratio_3", "ratio_4")
    both = tables()
    both["knob"][1]["each"] = 4
    knobs = Study.create(both).history.definition.knobs
    assert knobs["volts_3"].supports == ("ratio_3",)


def test_a_derived_value_has_its_ceiling_for_each_unit() -> None:
    """A clock of a base clock and each ratio; the gate holds every one of them."""
    base = {"name": "base", "unit": "MHz", "low": 98, "high": 104, "step": 0.5, "stock": 100}
    made = {"name": "clock", "unit": "MHz", "product": ["base", "ratio"], "everyday": 5200}
    top = {"name": "twice", "unit": "MHz", "sum": ["clock"], "everyday": 5300}
    given = tables(2)
    study = Study.create({**given, "knob": [*given["knob"], base], "derived": [top, made]})
    definition = study.history.definition
    assert set(definition.derived) == {"clock_1", "clock_2", "twice_1", "twice_2"}
    over = {**definition.stock, "ratio_2": 53.0}
    assert any("clock_2" in text for text in gate_of(study.history).objections(over))


def test_a_name_that_is_taken_is_refused() -> None:
    """With the name, the knob and what was expected."""
    taken = tables()
    taken["knob"][1]["name"] = "ratio_2"
    with pytest.raises(DefinitionError, match=r"ratio: each = 4: 'ratio_2' is another knob's name"):
        Study.create(taken)


def draws(tops: dict[str, float], crashes: bool = True, **clock: Any) -> dict[str, np.ndarray]:
    """Draws of every unit's edge after runs of some, one unit at a time."""
    study = Study.create(tables(**clock))
    stock = study.history.definition.stock
    for name, top in tops.items():
        for value in (top - 1, top, top):
            study.record("pass", settings={**stock, name: value}, minutes=12)
        for value in (top + 0.5, top + 1) if crashes else ():
            study.record("crash", settings={**stock, name: value}, minutes=9, failed_after_s=100)
    posterior = joint_posterior(study.history)
    names = posterior.layout.names
    return {n: posterior.edge_values(k, stock, np.log(0.5)) for k, n in enumerate(names)}


def test_a_unit_without_runs_is_told_of_by_its_like() -> None:
    """Three cores that fail at 51 say much of the fourth; its own doubt stays the widest."""
    told = draws({"ratio_1": 51.0, "ratio_2": 51.5, "ratio_3": 50.5})
    fresh = draws({})
    assert np.std(told["ratio_4"]) < 0.5 * np.std(fresh["ratio_4"])
    assert np.median(told["ratio_4"]) == pytest.approx(51, abs=1.5)
    assert np.std(told["ratio_4"]) > 2 * np.std(told["ratio_1"])


def test_a_unit_with_runs_of_its_own_keeps_its_own_edge() -> None:
    """The best core is found where it is, not where the others are."""
    told = draws({"ratio_1": 48.0, "ratio_2": 48.0, "ratio_3": 48.0, "ratio_4": 54.0})
    assert np.median(told["ratio_4"]) == pytest.approx(54.25, abs=0.75)
    assert np.median(told["ratio_1"]) == pytest.approx(48.25, abs=0.75)
