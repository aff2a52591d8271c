"""What goes into the map: every run once and in its place, ceilings, marks."""

from collections import Counter
from dataclasses import replace
from functools import cache

import pytest

from planner.domain.knob import Knob
from planner.gate import above_everyday, past_hard_stop
from planner.history import History
from planner.report.pictures.ceilings import Limit
from planner.report.pictures.endings import Ending, ending_of
from planner.report.pictures.map.axis import Axis, index_of, place_of
from planner.report.pictures.map.cells import Cell, total, words
from planner.report.pictures.map.data import KnobMap, knob_map
from planner.searching import Searching
from tests.report.pictures.studies import (
    CLOCK,
    DELAY,
    GEAR,
    STUDIES,
    VOLTS,
    crowd,
    history,
    new,
    told,
)

CROWDS = {"crowd": lambda: crowd(1500, 60, 60), "wide": lambda: crowd(400, 33, 5)}
every_history = pytest.mark.parametrize("name", [*STUDIES, *CROWDS])


def of(name: str) -> History:
    """The history of that name."""
    return CROWDS[name]() if name in CROWDS else history(name)


@cache
def drawn(name: str) -> KnobMap:
    """Its map, over the first two knobs."""
    known = of(name)
    right, up = list(known.definition.knobs.values())[:2]
    return knob_map(known, right, up, Searching())


def place(axis: Axis, value: object) -> int:
    """The cell in which a value stands, found by looking through all of them."""
    at = place_of(axis.knob, value)  # type: ignore[arg-type]
    assert at is not None
    cells = [c for c in range(axis.cells) if index_of(at) in axis.indexes(c)]
    assert len(cells) == 1, "a value stands in one cell"
    return cells[0]


@every_history
def test_every_run_is_counted_once_and_in_its_place(name: str) -> None:
    """Cell by cell the same as counted run by run, endings and other knobs known apart."""
    known, picture = of(name), drawn(name)
    x, y = picture.x, picture.y
    base = known.definition.stock
    counted: Counter[tuple[int, int, bool, Ending]] = Counter()
    for run in known.evidence:
        others = {n: v for n, v in run.ran.items() if n not in (x.knob.name, y.knob.name)}
        aside = run.workload != known.definition.workload.name or any(
            base[n] != v for n, v in others.items()
        )
        ending = ending_of(run, known.definition)
        cell = place(x, run.ran[x.knob.name]), place(y, run.ran[y.knob.name])
        counted[*cell, aside, ending] += 1
    shown = {
        (cell.column, cell.row, aside, ending): count
        for cell in picture.cells
        for aside, tally in ((False, cell.here), (True, cell.aside))
        for ending, count in tally
    }
    assert shown == counted
    assert picture.here + picture.aside == len(known.evidence)


def test_the_evening_as_counted_by_hand() -> None:
    """Four settings of it: shared by endings, capped, between values, and beside others."""
    picture = drawn("an evening")

    def at(clock: float, volts: float) -> Cell:
        column, row = place(picture.x, clock), place(picture.y, volts)
        return next(c for c in picture.cells if (c.column, c.row) == (column, row))

    assert at(5375, 1.3).here == ((Ending.PASSED, 1), (Ending.POWER_OFF, 1))
    assert at(5250, 1.25).here == ((Ending.PASSED, 1),)
    assert words(at(5150, 1.2).here) == "2/2"
    assert at(5150, 1.2).aside == ((Ending.PASSED, 2), (Ending.CRASH, 1))
    assert picture.between == 1
    assert picture.unplaced == 0


def test_a_run_between_two_values_stands_at_the_nearest() -> None:
    """5113 MHz at 5125, 5112 MHz at 5100; half way at the upper one."""
    made = new(CLOCK, VOLTS)
    for value in (5112, 5113, 5137.5):
        told(made, "pass", 5100, actual={"core_clock": value})
    told(made, "crash", 5200, 1.25)
    knobs = made.history.definition.knobs
    picture = knob_map(made.history, knobs["core_clock"], knobs["core_voltage"], Searching())
    row = place(picture.y, 1.2)
    counts = {c.column: words(c.here) for c in picture.cells if c.row == row}
    assert counts == {place(picture.x, value): "1/1" for value in (5100, 5125, 5150)}
    assert picture.between == 3


def test_over_very_many_values_a_whole_cell_is_as_its_highest_setting() -> None:
    """100 by 60 settings are not asked about one by one."""
    known = crowd(300, 100, 60)
    knobs = list(known.definition.knobs.values())
    picture = knob_map(known, knobs[0], knobs[1], Searching())
    x, y, definition = picture.x, picture.y, known.definition
    assert (x.last - x.first + 1) * (y.last - y.first + 1) > 4000
    for column in range(x.cells):
        for row in range(y.cells):
            setting = {**definition.stock, x.knob.name: x.value(x.indexes(column)[-1])}
            setting[y.knob.name] = y.value(y.indexes(row)[-1])
            assert picture.risky(column, row) == bool(above_everyday(definition, setting))
            right, up = x.middle(column), y.middle(row)
            shut = any(
                b.left < right < b.right and b.low < up < b.high for b in picture.regions.shut
            )
            assert shut == bool(past_hard_stop(definition, setting))


@every_history
def test_cells_lie_side_by_side_over_all_that_was_run(name: str) -> None:
    """Each index in exactly one cell; no cell is empty of values."""
    for axis in (drawn(name).x, drawn(name).y):
        seen = [i for cell in range(axis.cells) for i in axis.indexes(cell)]
        assert seen == list(range(axis.first, axis.last + 1))
        assert axis.first <= axis.start


@every_history
def test_a_region_is_risky_exactly_above_an_everyday_ceiling(name: str) -> None:
    """Asked of the gate for each setting shown, the other knobs at the study's values."""
    known, picture = of(name), drawn(name)
    base = known.definition.stock
    for i in range(picture.x.start, picture.x.last + 1):
        for j in range(picture.y.start, picture.y.last + 1):
            setting = {
                **base,
                picture.x.knob.name: picture.x.value(i),
                picture.y.knob.name: picture.y.value(j),
            }
            inside, shut = (
                any(b.left < i < b.right and b.low < j < b.high for b in blocks)
                for blocks in (picture.regions.risky, picture.regions.shut)
            )
            assert inside == bool(above_everyday(known.definition, setting)), setting
            assert shut == bool(past_hard_stop(known.definition, setting)), setting


@every_history
def test_no_cell_reaches_across_an_everyday_ceiling(name: str) -> None:
    """So no card holds runs of both sides."""
    picture = drawn(name)
    for axis, lines in ((picture.x, picture.x_lines), (picture.y, picture.y_lines)):
        everyday = [line.place for line in lines if line.limit is Limit.EVERYDAY]
        for cell in range(axis.cells):
            places = axis.indexes(cell)
            assert not any(places[0] < at < places[-1] for at in everyday)


def test_ceilings_run_above_the_last_value_under_them() -> None:
    """5350 MHz is the 22nd step of 25 MHz from 4800, 1.25 V the 25th of 10 mV from 1 V."""
    picture = drawn("an evening")
    assert [(line.limit, line.place, line.shown) for line in picture.x_lines] == [
        (Limit.EVERYDAY, 22.5, "5350 MHz"),
        (Limit.OWN_RISK, 26.5, "5450 MHz"),
        (Limit.HARD_STOP, 28.5, "5500 MHz"),
    ]
    assert picture.y_lines[0].place == 25.5


def test_runs_at_own_risk_are_counted_with_what_they_pass() -> None:
    """Three runs of the evening stood at 1.3 V, two of them at 5375 MHz."""
    picture = drawn("an evening")
    assert picture.risked.runs == 3
    assert set(picture.risked.names) == {"core_clock", "core_voltage"}
    assert drawn("one run").risked.words == []


def test_a_base_above_a_ceiling_makes_all_of_it_risky() -> None:
    """A third knob whose accepted risk holds for every setting shown."""
    third = {**VOLTS, "name": "rail", "stock": 1.3, "supports": []}
    made = new(CLOCK, DELAY, third)
    made.accept_risk("rail", 1.31)
    known = made.history
    picture = knob_map(
        known,
        known.definition.knobs["core_clock"],
        known.definition.knobs["read_delay"],
        Searching(),
    )
    assert [(b.left, b.low) for b in picture.regions.risky] == [(-0.5, -0.5)]
    assert picture.regions.guards[0] in ("rail", "core_clock")
    assert {"rail"} <= set(picture.regions.guards)


def test_the_pending_proposal_and_the_setting_to_keep_stand_where_they_are() -> None:
    """As the history tells them."""
    known, picture = of("an evening"), drawn("an evening")
    (proposal,) = known.pending.values()
    (spot,) = picture.pending
    at = place(picture.x, proposal.settings["core_clock"])
    assert (spot.column, spot.row) == (at, place(picture.y, proposal.settings["core_voltage"]))
    assert spot.words == f"proposed: run {proposal.number}"
    assert picture.keep is not None
    assert picture.keep.row == place(picture.y, 1.2)


def test_before_the_first_run_nothing_is_kept() -> None:
    """The whole range is shown, and no value is marked."""
    picture = drawn("before the first run")
    assert (picture.cells, picture.keep, picture.pending) == ((), None, ())
    assert (picture.x.first, picture.x.last, picture.x.every) == (0, 32, 1)


def test_cells_grow_until_counts_can_be_read() -> None:
    """Where few were run each value keeps its own cell; over 60 by 60 several share one."""
    few, many = drawn("down"), drawn("crowd")
    assert (few.x.every, few.y.every) == (1, 1)
    assert many.x.every > 1
    assert many.y.every > 1
    assert 475 / many.x.cells > 0.64 * 6 * max(
        len(words(t)) for c in many.cells for t in (c.here, c.aside) if t
    )


def test_a_value_without_a_place_is_counted_apart() -> None:
    """A choice that the study does not offer any more."""
    made = new(CLOCK, GEAR | {"choices": [1, 2, 3]})
    for gear in (1, 3, 3):
        made.record("pass", settings={"core_clock": 5000, "gear": gear})
    known = made.history
    two: Knob = replace(known.definition.knobs["gear"], choices=(1, 2))
    picture = knob_map(known, known.definition.knobs["core_clock"], two, Searching())
    assert picture.unplaced == 2
    assert sum(total(cell.here) for cell in picture.cells) == 1
