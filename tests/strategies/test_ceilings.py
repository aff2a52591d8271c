"""Ceilings: everyday at first, own risk once accepted, never past the last one."""

from typing import Any

import pytest

from planner import Study
from planner.errors import RecordError
from planner.gate import gate_of
from tests.domain.makers import clock, mode, ratio, tables, volts

FULL = {"everyday": 1.25, "own_risk": 1.3, "hard_stop": 1.35}


def highest(study: Study, name: str = "volts", **others: Any) -> float | None:
    """The highest value of a knob that may be proposed, the others at stock."""
    history = study.history
    base = history.definition.stock | others
    return max(
        gate_of(history).permitted_values(history.definition.knobs[name], base), default=None
    )


def volts_study(**changes: Any) -> Study:
    """A study with a clock and a voltage."""
    return Study.create(tables(clock(), volts(**changes)))


@pytest.mark.parametrize("harder", ["up", "down"])
@pytest.mark.parametrize(
    ("given", "top"),
    [
        ({}, 1.2),
        ({"everyday": 1.25}, 1.25),
        ({"everyday": 1.2525}, 1.25),
        (FULL, 1.25),
        ({"own_risk": 1.3}, 1.2),
        ({"hard_stop": 1.3}, 1.2),
        ({"own_risk": 1.3, "hard_stop": 1.35}, 1.2),
        ({"hard_stop": 1.15}, 1.15),
        ({"everyday": 1.1, "hard_stop": 1.3}, 1.1),
        ({"everyday": 9.0}, 1.4),
    ],
)
def test_the_highest_voltage_proposed(given: dict[str, float], top: float, harder: str) -> None:
    """Whichever way is harder; a blank ceiling means never above stock."""
    assert highest(volts_study(**given, harder=harder)) == top


@pytest.mark.parametrize(
    "changes", [{"unit": "mV"}, {"unit": "uV"}, {"unit": "kV", "supports": ["clock"]}]
)
def test_a_voltage_is_told_by_its_unit_or_by_what_it_supports(changes: dict[str, Any]) -> None:
    """Blank ceilings hold it at stock, and one that is no voltage is free."""
    assert highest(volts_study(**changes)) == 1.2
    assert highest(volts_study(unit="A")) == 1.4
    assert highest(Study.create(tables(clock())), "clock") == 5000


def test_acceptance_lifts_exactly_to_what_was_accepted() -> None:
    """One knob's, up to the value typed, on its steps; the others stay where they are."""
    study = Study.create(tables(clock(), volts(**FULL), volts("other", **FULL)))
    study.accept_risk("volts", "1.28V")
    assert (highest(study), highest(study, "other")) == (1.28, 1.25)
    study.accept_risk("volts", "1299mV")
    assert highest(study) == 1.295
    study.accept_risk("volts", 1.27)
    assert highest(study) == 1.27
    study.accept_risk("volts", 1.25)
    assert highest(study) == 1.25
    assert gate_of(study.history, everyday_only=True).ceilings["volts"] == 1.25


@pytest.mark.parametrize(
    ("given", "up_to"),
    [
        (FULL, 1.301),
        (FULL, 1.35),
        (FULL, 1.0),
        (FULL, "high"),
        (FULL, True),
        (FULL, float("nan")),
        (FULL, "1.28A"),
        ({"everyday": 1.25, "hard_stop": 1.35}, 1.3),
        ({"everyday": 1.25}, 1.3),
        ({}, 1.3),
    ],
)
def test_what_cannot_be_accepted_is_refused(given: dict[str, float], up_to: Any) -> None:
    """Only values above everyday and at or under own-risk; the message names the knob."""
    study = volts_study(**given)
    head = study.head
    with pytest.raises(RecordError, match="accept-risk volts"):
        study.accept_risk("volts", up_to)
    assert study.head == head


def test_a_name_without_own_risk_is_refused_with_those_that_have_it() -> None:
    """A slip of the pen, or a knob that is not guarded at all."""
    study = volts_study(**FULL)
    for name in ("volt", "clock", "core"):
        with pytest.raises(RecordError, match=rf"accept-risk {name}: "):
            study.accept_risk(name, 1.3)


def test_own_risk_without_everyday_begins_at_stock() -> None:
    """For a clock too: up to stock at first, up to own-risk once accepted."""
    study = Study.create(tables(clock(own_risk=4800)))
    assert highest(study, "clock") == 4200
    study.accept_risk("clock", "4.7GHz")
    assert highest(study, "clock") == 4700


@pytest.mark.parametrize(
    ("ceiling", "base", "offset"), [(1.3, 1.3, 0.1), (1.25, 1.25, 0.05), (1.2, 1.2, 0.0)]
)
def test_a_derived_ceiling_bounds_every_member(ceiling: float, base: float, offset: float) -> None:
    """Base plus offset: what one takes, the other cannot have."""
    shift = volts("offset", low=-0.2, high=0.2, stock=0)
    real = {"name": "real", "unit": "V", "sum": ["volts", "offset"], "everyday": ceiling}
    study = Study.create(tables(volts(), shift, derived=[real]))
    assert highest(study) == base
    assert highest(study, "offset") == offset
    assert highest(study, "offset", volts=1.0) == min(0.2, round(ceiling - 1.0, 3))


def test_a_sum_may_come_to_exactly_its_ceiling_of_zero() -> None:
    """Three offsets that may not raise the voltage together, and do not."""
    names = ["a", "b", "c"]
    knobs = [volts(name, low=-0.3, high=0.3, step=0.1, stock=0) for name in names]
    shift = {"name": "shift", "unit": "V", "sum": names, "everyday": 0}
    gate = gate_of(Study.create(tables(*knobs, derived=[shift])).history)
    assert gate.permits({"a": 0.1, "b": 0.2, "c": -0.3})
    assert not gate.permits({"a": 0.1, "b": 0.2, "c": -0.2})


def test_a_product_is_guarded_in_its_own_unit() -> None:
    """100 MHz x 50 is 5 GHz."""
    bus = clock(name="bus", low=95, high=105, step=0.5, stock=100)
    core = {"name": "core", "unit": "GHz", "product": ["bus", "ratio"], "everyday": 5.0}
    study = Study.create(tables(bus, ratio(), derived=[core]))
    assert highest(study, "ratio") == 50
    assert highest(study, "ratio", bus=100.5) == 49
    assert gate_of(study.history).at_own_risk({"bus": 100.5, "ratio": 50.0}) == ("core",)


def test_the_hard_stop_is_never_passed() -> None:
    """Not with everything accepted that can be."""
    study = volts_study(everyday=1.2, own_risk=1.3, hard_stop=1.3)
    study.accept_risk("volts", 1.3)
    assert highest(study) == 1.3
    (reason,) = gate_of(study.history).objections({"clock": 4200.0, "volts": 1.305})
    assert reason == "volts = 1.305 V is above its ceiling of 1.3 V"


def test_an_own_risk_ceiling_below_stock() -> None:
    """Nothing above it is proposed: the planner goes down from stock, or refuses the definition."""
    assert highest(volts_study(own_risk=1.1, hard_stop=1.3)) == 1.1


def test_the_ceiling_of_a_choice_whose_stock_is_a_word() -> None:
    """`auto` or numbers: the numbers are guarded."""
    choice = mode(unit="V", choices=["auto", 1.2, 1.4], stock="auto", everyday=1.25)
    gate = gate_of(Study.create(tables(clock(), choice)).history)
    assert gate.permits({"clock": 4200.0, "mode": 1.2})
    assert not gate.permits({"clock": 4200.0, "mode": 1.4})


def test_a_word_beside_guarded_numbers_is_judged() -> None:
    """A choice of numbers and a word, stock being a number."""
    choice = mode(unit="V", choices=["auto", 1.2, 1.4], stock=1.2)
    gate = gate_of(Study.create(tables(clock(), choice)).history)
    assert not gate.permits({"clock": 4200.0, "mode": 1.4})
    assert isinstance(gate.objections({"clock": 4200.0, "mode": "auto"}), list)


def test_ceilings_hold_in_small_units() -> None:
    """A timing in seconds, by tenths of a nanosecond."""
    timing = clock(name="t", unit="s", low=1e-9, high=2e-8, step=1e-10, stock=2e-9, everyday=5e-9)
    assert highest(Study.create(tables(timing)), "t") == 5e-9


@pytest.mark.parametrize("given", [{}, {"own_risk": 1.3}, {"hard_stop": 1.4}])
def test_a_voltage_whose_stock_is_a_word_needs_an_everyday_ceiling(
    given: dict[str, float],
) -> None:
    """Any number may be above `auto`: without everyday none is proposed, nor own risk opened."""
    choice = mode(unit="V", choices=["auto", 1.2, 1.4], stock="auto", **given)
    gate = gate_of(Study.create(tables(clock(), choice)).history)
    permitted = [v for v in ("auto", 1.2, 1.4) if gate.permits({"clock": 4200.0, "mode": v})]
    assert permitted == ["auto"]
