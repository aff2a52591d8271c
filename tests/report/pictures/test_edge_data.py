"""What goes into the edge picture: marks, ceilings, the verdict, and colours that can be seen."""

from dataclasses import replace

import numpy as np
import pytest

from planner.domain.definition import Definition
from planner.domain.knob import Knob
from planner.models.edge_search import edge_search
from planner.models.pass_curve import pass_curve
from planner.report.pictures import inks
from planner.report.pictures.ceilings import Bound, Limit, bounds_of, with_near_bounds
from planner.report.pictures.edge.data import Kind, Mark, edge_picture
from planner.report.pictures.edge.words import conditions, verdict
from planner.report.pictures.words import best_word
from tests.report.pictures.edge_studies import (
    CEILINGS,
    CLOCK,
    EVENING,
    STUDIES,
    drawn,
    picture,
    study,
)


def searched(definition: Definition) -> Knob:
    """The knob that is searched."""
    assert definition.searched is not None
    return definition.searched


def test_runs_are_counted_by_value_and_kind() -> None:
    """Counted by hand from the runs told."""
    assert drawn("an evening").marks == (
        Mark(4800, Kind.PASSED, 1),
        Mark(5200, Kind.PASSED, 12),
        Mark(5225, Kind.FAILED, 1),
        Mark(5225, Kind.PASSED, 1),
        Mark(5250, Kind.PASSED, 1),
        Mark(5275, Kind.FAILED, 2),
        Mark(5325, Kind.FAILED, 1),
    )


def test_a_timing_has_marks_of_every_kind() -> None:
    """A short pass, counted errors and a failure to start are told apart from their like."""
    kinds = {(mark.value, mark.kind) for mark in drawn("a timing").marks}
    assert {(450, Kind.STOPPED), (430, Kind.ERRORS), (410, Kind.FAILED)} <= kinds
    assert (430, Kind.PASSED) in kinds


def test_void_runs_leave_no_mark() -> None:
    """They say nothing of the setting."""
    made = study(CLOCK, [("pass", 5000), ("void", 5100)])
    assert picture(made).marks == (Mark(5000, Kind.PASSED, 1),)


@pytest.mark.parametrize("name", STUDIES)
def test_the_curve_falls_inside_zero_to_one(name: str) -> None:
    """Harder never passes more often, nor do the ends of its band."""
    curve = drawn(name).curve
    for values in (curve.mean, curve.low, curve.high):
        assert np.all(np.diff(values) <= 1e-9)
        assert values.min() >= 0
        assert values.max() <= 1
    assert np.all(curve.low <= curve.high)


@pytest.mark.parametrize("name", STUDIES)
def test_everything_drawn_lies_in_the_picture(name: str) -> None:
    """Runs and best value stand between its ends, and the curve spans it."""
    shown = drawn(name)
    places = [mark.value for mark in shown.marks] + ([] if shown.best is None else [shown.best])
    assert all(0 < shown.across(value) < 1 for value in places)
    assert (shown.curve.hardness[0], shown.curve.hardness[-1]) == shown.shown


def test_the_curve_is_the_posterior() -> None:
    """At each place: mean and interval as the posterior itself gives them."""
    search = edge_search(STUDIES["an evening"]().history)
    assert search is not None
    curve = pass_curve(search.posterior, 20.0, 30.0)
    for place in (0, len(curve.hardness) // 2, -1):
        at = float(curve.hardness[place])
        assert curve.mean[place] == search.posterior.chance(at)
        assert (curve.low[place], curve.high[place]) == search.posterior.chance_interval(at)


def test_a_derived_ceiling_bounds_its_knob() -> None:
    """Worked by hand: 4000 MHz at a base clock of 100 MHz leaves a ratio of 40."""
    made = study(
        {"name": "ratio", "unit": "x", "low": 30, "high": 60, "step": 1, "stock": 36},
        [],
        {"name": "base", "unit": "MHz", "low": 95, "high": 110, "step": 1, "stock": 100},
    )
    text = made.history.definition.text + (
        '[[derived]]\nname = "core"\nunit = "MHz"\nproduct = ["base", "ratio"]\neveryday = 4000\n'
    )
    definition = parse(text)
    bounds = bounds_of(definition, searched(definition), definition.stock)
    assert bounds == (Bound(Limit.EVERYDAY, 40, "core"),)


def parse(text: str) -> Definition:
    """A definition from its text."""
    from planner.domain.parse import parse_text

    return parse_text(text)


def test_the_lowest_ceiling_of_a_kind_counts() -> None:
    """The knob's own ceilings as given, in order of their kinds."""
    definition = study(CLOCK | CEILINGS, []).history.definition
    bounds = bounds_of(definition, searched(definition), definition.stock)
    assert [(b.limit, b.value, b.of) for b in bounds] == [
        (Limit.EVERYDAY, 5350, ""),
        (Limit.OWN_RISK, 5450, ""),
        (Limit.HARD_STOP, 5500, ""),
    ]


def test_only_near_ceilings_widen_the_picture() -> None:
    """A ceiling a quarter of the width away is brought in with some room, a far one is not."""
    knob = searched(study(CLOCK, []).history.definition)
    near, far = Bound(Limit.EVERYDAY, 5000, ""), Bound(Limit.HARD_STOP, 5500, "")
    assert with_near_bounds(knob, (near, far), (0.0, 14.0)) == (0.0, pytest.approx(16.7))
    assert with_near_bounds(knob, (far,), (0.0, 14.0)) == (0.0, 14.0)


@pytest.mark.parametrize(
    ("name", "begins"),
    [
        ("before the first run", "No run speaks of core_clock yet"),
        ("an evening", "Keep core_clock"),
        ("nothing holds", "No permitted core_v is likely to hold: even 1250 mV passes"),
    ],
)
def test_the_title_states_the_verdict(name: str, begins: str) -> None:
    """One sentence for each state of a study."""
    assert verdict(drawn(name)).startswith(begins)


@pytest.mark.parametrize(
    ("borne_out", "chance", "word"),
    [(False, 0.97, "best guess"), (True, 0.89, "best so far"), (True, 0.9, "keep")],
)
def test_nothing_is_kept_that_was_not_seen_to_hold(
    borne_out: bool, chance: float, word: str
) -> None:
    """`keep` takes a run that held there or harder, and the target probability; so in the title."""
    shown = drawn("an evening")
    found = replace(shown.recommendation, pass_probability=chance)
    shown = replace(shown, borne_out=borne_out, recommendation=found)
    assert best_word(borne_out, chance, shown.target) == word
    assert verdict(shown).lower().startswith(word)


def test_a_best_value_above_the_everyday_ceiling_says_so() -> None:
    """The warning stands in the title, right behind the value."""
    shown = drawn("an evening")
    found = replace(shown.recommendation, at_own_risk=("core_clock",))
    told = verdict(replace(shown, best=5400.0, recommendation=found))
    assert "core_clock 5400 MHz, AT YOUR OWN RISK" in told


def test_conditions_tell_what_the_curve_holds_for() -> None:
    """Study, workload, runs, minutes and the other knobs' values."""
    made = study(CLOCK, EVENING, {**CLOCK, "name": "cache_clock"})
    told = conditions(picture(made))
    assert told.startswith("bench: long sums, 10 min a run. 19 runs, ")
    assert told.endswith("cache_clock 4800 MHz.")


def test_own_runs_beside_other_settings_are_told_of() -> None:
    """A crash beside a harder second knob says nothing of this edge: it has no mark."""
    made = study(CLOCK, [("pass", 5000)], {**CLOCK, "name": "cache_clock"})
    made.record("crash", settings={"core_clock": 5000, "cache_clock": 5400})
    assert picture(made).marks == (Mark(5000, Kind.PASSED, 1),)
    assert "1 of the runs speak of this edge" in conditions(picture(made))


def luminance(colour: str) -> float:
    """Relative luminance (WCAG 2.1)."""
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return sum(w * c for w, c in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


@pytest.mark.parametrize(
    ("colour", "least"), [(inks.INK, 7), (inks.SOFT, 7), (inks.CURVE, 3), (inks.FAILURE, 3)]
)
def test_inks_stand_out_from_white(colour: str, least: float) -> None:
    """WCAG 2.1: 7 to 1 for text (1.4.6), 3 to 1 for graphics that carry meaning (1.4.11)."""
    assert 1.05 / (luminance(colour) + 0.05) >= least


def test_a_picture_is_a_value() -> None:
    """The same history gives an equal picture, curve aside by its figures."""
    one, two = (picture(STUDIES["an evening"]()) for _ in range(2))
    assert np.array_equal(one.curve.mean, two.curve.mean)
    assert replace(one, curve=two.curve) == two


def test_a_study_that_was_never_run_has_a_picture() -> None:
    """All of it is the prior, and no value is marked as best."""
    search = edge_search(study(CLOCK, []).history)
    assert search is not None
    assert edge_picture(search).speaking == 0
