"""What goes into the frontier picture: every run once, stations, ceilings, the point to keep."""

from collections import Counter
from itertools import pairwise

import pytest

from planner.domain.definition import Definition
from planner.gate import above_everyday, past_hard_stop
from planner.models.frontier.findings import Holding
from planner.models.frontier.search import frontier_search
from planner.report.pictures.ceilings import Limit
from planner.report.pictures.endings import Ending
from planner.report.pictures.frontier.data import FrontierPicture, frontier_picture
from planner.report.pictures.frontier.words import conditions, verdict
from planner.report.pictures.picture import Wanted
from planner.report.pictures.table import picture_named, usual_for
from tests.report.pictures.frontier_studies import (
    CLOCK,
    STATIONS,
    STUDIES,
    VOLTS,
    around,
    crowd,
    drawn,
    holds_to,
    new,
    told,
)
from tests.report.pictures.studies import history

pytestmark = pytest.mark.slow

CROWD = 1500
every_study = pytest.mark.parametrize("name", [*STUDIES, "crowd"])


def of(name: str) -> FrontierPicture:
    """The picture of that name."""
    return crowd(CROWD) if name == "crowd" else drawn(name)


@every_study
def test_every_run_is_drawn_once_or_said_to_be_left_out(name: str) -> None:
    """By its ending; those past a hard stop are counted apart."""
    picture = of(name)
    shown = sum(mark.count for mark in picture.marks.here)
    assert shown + picture.marks.unplaced + picture.past_stop == picture.runs
    assert [one.mark for one in picture.placed] == list(picture.marks.here)


def test_the_evening_s_marks_are_its_runs() -> None:
    """Place by place as told: at each voltage five clocks, the nearest below the edge thrice."""
    counted: Counter[tuple[float, float, Ending]] = Counter()
    for volts in STATIONS:
        under = 4400 + 25 * int((holds_to(volts) - 4400) // 25)
        for clock, times in ((-100, 1), (0, 3), (25, 1), (50, 1), (150, 1)):
            ending = Ending.CRASH if clock > 0 else Ending.PASSED
            counted[volts, under + clock, ending] += times
    marks = drawn("an evening").marks
    assert {(m.along, m.value, m.ending): m.count for m in marks.here} == counted
    assert not marks.crowded


@every_study
def test_stations_ascend_and_none_lies_past_a_hard_stop(name: str) -> None:
    """From left to right; edges inside their intervals."""
    picture = of(name)
    places = [point.along for point in picture.points]
    assert places == sorted(set(places))
    stop = picture.fences.stopped
    assert all(point.interval[0] <= point.edge <= point.interval[1] for point in picture.points)
    assert all(p <= picture.panel.x_shown[1] for p in places) or not stop


@every_study
def test_a_value_to_keep_passes_with_the_chance_told_and_is_no_guess(name: str) -> None:
    """Where none has held none is drawn."""
    for point in of(name).points:
        assert (point.kept is not None) == (point.holding is Holding.HELD)
    keep = of(name).keep
    if keep is not None:
        low, high = keep.found.interval
        assert low <= keep.found.pass_probability <= high


def test_the_band_holds_the_edge_that_the_runs_were_made_for() -> None:
    """At every voltage of the evening, within a step; runs lie 25 MHz above and below it."""
    points = {point.along: point for point in drawn("an evening").points}
    for volts in STATIONS:
        low, high = points[volts].interval
        assert low - 25 <= holds_to(volts) <= high + 25


@pytest.mark.parametrize("name", ["all endings", "own risk accepted", "derived", "long names"])
def test_risky_and_shut_regions_are_those_of_the_gate(name: str) -> None:
    """Asked for every value of both knobs that is shown, the other knobs at the study's."""
    _regions_are_those_of_the_gate(drawn(name), STUDIES[name]().history.definition)


@pytest.mark.parametrize(
    "ceilings", [{}, {"everyday": 1.2}, {"own_risk": 1.2}, {"everyday": 1.15, "own_risk": 1.2}]
)
def test_without_a_hard_stop_the_last_ceiling_shuts(ceilings: dict[str, float]) -> None:
    """Grey past it, or past stock where a voltage has none; runs there are drawn all the same."""
    volts = {k: v for k, v in VOLTS.items() if k not in ("everyday", "own_risk", "hard_stop")}
    made = around(new(CLOCK, volts | ceilings), (1.0, 1.24), times=1)
    search = frontier_search(made.history)
    assert search is not None
    picture = frontier_picture(search)
    assert picture.fences.shut
    assert picture.fences.stopped == ()
    assert 1.24 in {mark.along for mark in picture.marks.here}
    _regions_are_those_of_the_gate(picture, made.history.definition)


def _regions_are_those_of_the_gate(picture: FrontierPicture, definition: Definition) -> None:
    base = dict(definition.stock)
    (left, right), (low, high) = picture.panel.x_shown, picture.panel.y_shown
    assert picture.along.grid is not None
    assert picture.knob.grid is not None
    for x in (v for v in picture.along.grid.values() if left < v < right):
        for y in (v for v in picture.knob.grid.values() if low < v < high):
            setting = {**base, picture.along.name: x, picture.knob.name: y}
            for border, asked in (
                (picture.fences.risky, above_everyday),
                (picture.fences.shut, past_hard_stop),
            ):
                assert _above(border, x, y) == bool(asked(definition, setting)), (x, y)


def _above(border: tuple[tuple[float, float], ...], x: float, y: float) -> bool:
    """Whether a place lies over a border, by a line between its corners."""
    for (left, start), (right, end) in pairwise(border):
        if left <= x <= right and right > left:
            return y > start + (end - start) * (x - left) / (right - left) + 1e-6
    return False


def test_ceilings_of_both_knobs_are_named() -> None:
    """The clock's lie level, the voltage's stand upright."""
    lines = drawn("all endings").fences.lines
    assert {(f.of, f.limit, f.upright) for f in lines} == {
        (of_, limit, of_ == "volts") for of_ in ("clock", "volts") for limit in Limit
    }


def test_runs_at_own_risk_past_a_stop_and_aside_are_told_of() -> None:
    """Counted by hand from the runs told."""
    picture = drawn("all endings")
    assert picture.past_stop == 2
    assert picture.marks.aside == 5  # two other delays, and three runs that left the last one set
    assert picture.marks.between == 1
    said = conditions(picture)
    assert "2 runs past a hard stop not drawn" in said
    assert "AT YOUR OWN RISK" in said


def test_above_an_accepted_ceiling_the_point_to_keep_says_so() -> None:
    """And the everyday point stands beside it in words."""
    picture = drawn("own risk accepted")
    assert picture.keep is not None
    assert picture.keep.found.at_own_risk == ("volts",)
    assert "AT YOUR OWN RISK" in verdict(picture)
    assert picture.everyday is not None
    assert picture.everyday.along == 1.16
    assert "Within everyday: keep" in conditions(picture)


def test_the_least_voltage_is_kept_at_the_highest_clock() -> None:
    """Along a clock the hardest station at which something holds is the one to keep."""
    picture = drawn("downwards")
    assert picture.keep is not None
    assert picture.keep.along == 5100
    assert 0 <= picture.keep.value - 1.19 <= 0.011
    kept = [point.kept for point in picture.points if point.kept is not None]
    assert kept == sorted(kept)


def test_titles_say_what_is_known() -> None:
    """From nothing at all to nothing that holds."""
    assert verdict(drawn("before the first run")).startswith("No run yet")
    assert verdict(drawn("one crash")) == "No clock has held at any volts yet"
    assert verdict(drawn("nothing holds")).startswith("No permitted clock is likely to hold")
    assert verdict(drawn("an evening")).startswith("Keep clock 5200 MHz at volts 1.28 V")


def test_marks_are_shared_only_where_they_would_touch() -> None:
    """Places of a crowd lie apart, and no place reaches across an everyday ceiling."""
    picture = crowd(CROWD)
    assert picture.marks.crowded
    everyday = {f.of: f.places[0] for f in picture.fences.lines if f.limit is Limit.EVERYDAY}
    across, _ = picture.panel.scale
    columns = sorted({mark.along for mark in picture.marks.here})
    gaps = [b - a for a, b in pairwise(columns)]
    assert min(gap for gap in gaps if gap > 1e-9) * across >= 5
    assert all(abs(x - everyday["core_voltage"][0]) * across > 1 for x in columns)
    assert "share a mark" in conditions(picture)
    assert len(picture.marks.here) < CROWD


def test_a_proposal_stands_where_it_is_asked_for() -> None:
    """As the history tells it."""
    made = around(new(CLOCK, VOLTS), (1.0, 1.12))
    proposal = made.next()
    assert proposal is not None
    search = frontier_search(made.history)
    assert search is not None
    (asked,) = frontier_picture(search).asked
    place = {"clock": asked.value, "volts": asked.along}
    assert place == proposal.settings
    assert asked.number == proposal.number


def test_it_is_the_usual_picture_of_frontier_studies_alone() -> None:
    """Other aims have the edge; asked for there it says what lacks."""
    assert usual_for("frontier") == "frontier"
    assert usual_for("edge") == "edge"
    lack = picture_named("frontier").lacks(history("one run"), Wanted())
    assert lack == 'study.toml: [study]: aim = "edge": expected aim = "frontier"'


def test_a_study_without_a_permitted_voltage_has_no_picture() -> None:
    """The lack is named rather than drawn empty."""
    made = new(CLOCK, VOLTS, rule=[{"name": "r", "holds": "volts >= 2", "kind": "hard"}])
    lack = picture_named("frontier").lacks(made.history, Wanted())
    assert lack == "no value of volts is permitted, and none was run"
    told(made, "pass", 4600, 1.1)
    assert picture_named("frontier").lacks(made.history, Wanted()) == ""
