"""What a cooler room or a told change opens again, and what it does not."""

from dataclasses import replace
from typing import Any

import numpy as np

from planner import Study
from planner.gate import gate_of
from planner.peak.reopening import reopened
from planner.peak.search import PeakSearch, peak_search
from tests.models.joint.bench import small

STOCK = {"clock": 4200.0, "volts": 1.1, "gap": 34.0}


def searched(
    room_now: float, changes: tuple[Any, ...] = (), crashes: int = 2, seed: int = 0
) -> PeakSearch:
    """After crashes at 4600 MHz in a room of 30 °C, and a pass at stock as the room is now."""
    study = Study.create(small(seed=seed))
    study.record("pass", settings=STOCK, minutes=11, score=100.0, readings={"room": 30.0})
    for _ in range(crashes):
        fast = {**STOCK, "clock": 4600.0}
        study.record("crash", settings=fast, minutes=8, failed_after_s=400, readings={"room": 30.0})
    for what, groups in changes:
        study.changed(what, groups)
    study.record("pass", settings=STOCK, minutes=11, score=100.0, readings={"room": room_now})
    return peak_search(study.history)


def chance(search: PeakSearch, clock: float) -> float:
    """That a run passes at a clock."""
    return float(np.mean(search.posterior.chances([{**STOCK, "clock": clock}])))


def test_a_cooler_room_opens_what_a_warm_one_closed() -> None:
    """By the sign of the room's effect alone: cooler holds better."""
    cool, warm = searched(15.0), searched(30.0)
    assert chance(cool, 4600) > chance(warm, 4600) + 0.02
    text = reopened(cool, {**STOCK, "clock": 4600.0})
    assert text == "run 3 had closed this at 30 C in the room, it is 15 C now"
    assert reopened(warm, {**STOCK, "clock": 4600.0}) == ""
    assert reopened(cool, {**STOCK, "clock": 4500.0}) == ""


def test_a_change_of_its_group_opens_it_and_of_another_does_not() -> None:
    """Old crashes of the core say less after the core's change, as much after the memory's.

    In the mean over three samples of the posterior: of what is hardly possible one holds little.
    """

    def after(*changes: Any) -> tuple[float, PeakSearch]:
        every = [searched(30.0, changes, crashes=8, seed=seed) for seed in range(3)]
        return float(np.mean([chance(search, 4600) for search in every])), every[0]

    none, _ = after()
    opened, core = after(("new paste", ["core"]))
    closed, memory = after(("other modules", ["memory"]))
    assert opened > 1.8 * none
    assert closed < 1.3 * none
    assert reopened(memory, {**STOCK, "clock": 4600.0}) == ""
    assert "new paste" in reopened(core, {**STOCK, "clock": 4600.0})


def no_start(groups: list[str] | None) -> list[str]:
    """Objections to a setting that failed to start before a change."""
    tables = small()
    for knob in tables["knob"]:
        knob["where"] = "firmware"
    study = Study.create(tables)
    tight = {**STOCK, "gap": 20.0}
    study.record("no-start", settings=tight, minutes=9, readings={"room": 30.0})
    if groups is not None:
        study.changed("something", groups)
    study.record("pass", settings=STOCK, minutes=11, score=100.0, readings={"room": 12.0})
    return gate_of(study.history).objections(tight)


def test_a_no_start_stays_closed_unless_its_own_group_was_changed() -> None:
    """Neither a cool room nor new parts elsewhere speak for memory that did not train."""
    assert no_start(None)
    assert no_start(["core"])
    assert no_start(["memory"]) == []
    assert no_start([]) == []


def test_starting_is_no_likelier_in_a_cool_room() -> None:
    """The chance to start, at whatever the room is."""
    tables = small()
    for knob in tables["knob"]:
        knob["where"] = "firmware"
    study = Study.create(tables)
    study.record("no-start", settings={**STOCK, "gap": 20.0}, minutes=9, readings={"room": 30.0})
    starts = []
    posterior = peak_search(study.history).posterior

    for room in (30.0, 10.0):
        there = replace(posterior, room=room)
        starts.append(there.log_chances(there.felt([{**STOCK, "gap": 22.0}]))[0])
    assert np.allclose(starts[0], starts[1], atol=1e-5)
