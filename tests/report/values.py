"""Frozen values to draw screens from: made by hand, so that no model's figure is among them."""

import tomllib
from dataclasses import replace
from typing import Any

from planner import Study
from planner.domain.ledger import Head
from planner.domain.run import Change, Proposal
from planner.history import History
from planner.models.claim import Claim
from planner.models.findings import Edge, Recommendation
from planner.models.separation import Separation

DEFINITION = """\
[study]
name = "night shift"
knob = "core_clock"
minutes = 180
confidence = 0.8

[[knob]]
name = "core_clock"
group = "core"
unit = "MHz"
low = 4800
high = 5600
step = 25
stock = 5000

[[knob]]
name = "core_voltage"
group = "core"
unit = "V"
low = 1.0
high = 1.4
step = 0.01
stock = 1.2
harder = "down"
supports = ["core_clock"]
everyday = 1.25
own_risk = 1.32
hard_stop = 1.35

[[knob]]
name = "memory_voltage"
group = "memory"
unit = "V"
low = 1.1
high = 1.5
step = 0.01
stock = 1.1
harder = "down"

[[rule]]
name = "brisk"
holds = "core_clock >= 5100"

[[reading]]
name = "hotspot"
unit = "C"
stop = 95

[[workload]]
name = "long sums"
minutes = 10
"""
STOCK = {"core_clock": 5000.0, "core_voltage": 1.2, "memory_voltage": 1.1}
HEAD = Head(12, "9f2c4b7a1e3d5f60" * 4)


def study() -> Study:
    """A new one in memory."""
    return Study.create(tomllib.loads(DEFINITION))


def fresh() -> History:
    """Before the first run."""
    return study().history


def evening() -> History:
    """Runs of every kind, a risk accepted, a proposal pending."""
    told = study()
    record: list[tuple[str, dict[str, Any], dict[str, Any]]] = [
        ("pass", {}, {"score": 12345.678, "note": "stock, for the record"}),
        ("pass", {"core_clock": 5200}, {"score": 12801, "readings": {"hotspot": 88}}),
        ("crash", {"core_clock": 5300}, {"failed_after_s": 85, "symptom": "blank screen"}),
        ("errors", {"core_clock": 5275}, {"errors": 3, "suspect": "core_voltage"}),
        ("void", {"core_clock": 5250}, {"note": "the lamp on the bench circuit tripped it"}),
        ("pass", {"core_clock": 5250}, {"capped": "power"}),
        ("pass", {"core_clock": 5300, "core_voltage": 1.36}, {"readings": {"hotspot": 97}}),
        ("no-start", {"core_clock": 5350, "core_voltage": 1.3}, {}),
    ]
    for outcome, settings, facts in record:
        told.record(outcome, settings=settings, **facts)
    told.amend(2, score=12810)
    told.amend(6, outcome="stopped", run_minutes=4.5)
    told.accept_risk("core_voltage", 1.3)
    history = told.history
    return replace(history, pending={told.bench: PROPOSAL})


PROPOSAL = Proposal(
    number=9,
    settings=STOCK | {"core_clock": 5225.0, "core_voltage": 1.28},
    workload="long sums",
    run_minutes=10.0,
    reason="if it holds, 5200 MHz is left behind; the edge lies 9 to 1 between 5212.5 and 5275 MHz",
    pass_probability=0.712,
    minutes=12.34,
    start_when="coolant under 24 \N{DEGREE SIGN}C",
    at_own_risk=("core_voltage",),
    changes=(
        Change("core_clock", 5000.0, 5225.0, "MHz"),
        Change("core_voltage", 1.2, 1.28, "V"),
    ),
)
REPEAT = replace(PROPOSAL, at_own_risk=(), changes=(), start_when="", pass_probability=0.996)

BEST = Recommendation(
    settings=STOCK | {"core_clock": 5225.0, "core_voltage": 1.28},
    pass_probability=0.94,
    interval=(0.81, 0.995),
    expected_loss=0.2,
    holds=True,
    claim=Claim(5, 5, 2, 0.72, 3, 1, False),
    at_own_risk=("core_voltage",),
)
EVERYDAY = Recommendation(
    settings=STOCK | {"core_clock": 5175.0},
    pass_probability=0.93,
    interval=(0.8, 0.98),
    expected_loss=0.3,
    holds=True,
    claim=Claim(3, 4, 0, 0.4, 0, 0, True),
    at_own_risk=(),
)
GUESS = replace(
    EVERYDAY, pass_probability=0.4, interval=(0.004, 0.98), claim=Claim(*[0] * 6, False)
)
NOTHING = replace(GUESS, settings=STOCK, holds=False)

EDGES = {
    name: Edge(name, unit, value, interval, 0.9, 0.9, easy, hard, runs, Separation.OVERLAPPING)
    for name, unit, value, interval, easy, hard, runs in [
        ("core_clock", "MHz", 5243.75, (5212.5, 5275.0), 0.0, 0.0, 6),
        ("core_voltage", "V", 1.131, (0.97, 1.184), 0.01, 0.2, 2),
        ("memory_voltage", "V", 1.05, (0.9, 1.2), 0.0, 0.6, 0),
    ]
}
