"""A frontier study from its first question to its closing, as the ledger tells it."""

from functools import cache
from itertools import pairwise

import pytest

from planner import Study
from planner.models.frontier.findings import Holding
from planner.rigs.frontier import frontier_rig
from tests.models.frontier.bench import definition, drive
from tests.published.test_alpha_power_frontier import speed

RIGS = 3
"""More of them are traced under `studies/evidence/frontier`."""


def holds(clock: float, volts: float) -> bool:
    """A part without noise."""
    return clock <= speed(volts, 1.3)


@cache
def traced() -> Study:
    """A study of that part up to its closing, to be looked at only."""
    study = Study.create(definition())
    drive(study, holds)
    return study


@pytest.mark.slow
def test_it_closes_with_figures_and_keeps_the_highest_everyday_clock():
    study = traced()
    assert (study.closing() or "").startswith("frontier known well enough at ")
    best = study.recommendation()
    assert best.settings["volts"] == 1.2
    assert 0 <= speed(1.2, 1.3) - float(best.settings["clock"]) < 4
    assert best.holds
    assert not best.at_own_risk
    assert study.frontier().best == 1.2


@pytest.mark.slow
def test_nothing_above_everyday_is_proposed_until_it_is_accepted():
    """Then it is proposed, marked, and the everyday result stands beside it."""
    study = Study.create(definition())
    volts = []
    while (proposal := study.next()) is not None:
        volts.append(float(proposal.settings["volts"]))
        assert not proposal.at_own_risk
        study.record("pass" if holds(*proposal.settings.values()) else "crash")
    assert max(volts) == 1.2
    study.accept_risk("volts", 1.3)
    above = 0
    while (proposal := study.next()) is not None:
        above += proposal.at_own_risk == ("volts",)
        assert (float(proposal.settings["volts"]) > 1.2) == bool(proposal.at_own_risk)
        study.record("pass" if holds(*proposal.settings.values()) else "crash")
    assert above > 0
    assert study.recommendation().settings["volts"] == 1.3
    assert study.recommendation(everyday_only=True).settings["volts"] == 1.2


def test_a_mended_run_counts_as_one_recorded_right_at_first():
    right, mended = Study.create(definition()), Study.create(definition())
    for study, told in ((right, "crash"), (mended, "pass")):
        study.record("pass", settings={"clock": 90, "volts": 1.0})
        study.record(told, settings={"clock": 110, "volts": 1.0})
    mended.amend(2, outcome="crash")
    assert mended.frontier() == right.frontier()
    assert mended.next().settings == right.next().settings


def test_the_order_of_runs_does_not_matter_to_what_is_known():
    runs = [("pass", 90, 1.0), ("crash", 110, 1.0), ("pass", 70, 0.8), ("crash", 120, 1.15)]
    one, other = Study.create(definition()), Study.create(definition())
    for study, order in ((one, runs), (other, runs[::-1])):
        for outcome, clock, volts in order:
            study.record(outcome, settings={"clock": clock, "volts": volts})
    assert one.frontier() == other.frontier()


def test_asked_twice_it_gives_the_same_and_survives_a_restart(tmp_path):
    study = Study.create(definition(), tmp_path / "ridge")
    study.record("pass", settings={"clock": 90, "volts": 1.0})
    first = study.next()
    again = Study.open(tmp_path / "ridge").next()
    assert again is not None
    assert again.settings == first.settings


@pytest.mark.slow
def test_bisection_searches_each_voltage_alone():
    """A strategy without a model asks about one voltage until it is done with it."""
    study = Study.create(definition(strategy="bisection"))
    volts = []
    while (proposal := study.next()) is not None:
        volts.append(proposal.settings["volts"])
        study.record("pass" if holds(*proposal.settings.values()) else "crash")
    changes = sum(a != b for a, b in pairwise(volts))
    assert changes == len(set(volts)) - 1
    kept = {p.along: p.kept for p in study.frontier().points if p.asked}
    assert all(
        kept[v] is not None and 0 <= speed(v, 1.3) - kept[v] < 2 for v in kept if speed(v, 1.3) > 42
    )


@pytest.mark.slow
def test_a_claim_is_confirmed_at_the_point_to_keep():
    """With a confidence asked for, the passes owed are run there before it closes."""
    study = Study.create(definition(confidence=0.5))
    drive(study, holds)
    best = study.recommendation()
    assert best.claim.met
    assert best.claim.passes >= 7


@pytest.mark.slow
def test_frontiers_of_rigs_that_bend_are_traced():
    """Rigs of another physics than the model's: most voltages sound and within a step."""
    right = runs = 0
    for seed in range(RIGS):
        rig = frontier_rig(seed)
        study = Study.create(rig.definition)
        while (proposal := study.next()) is not None:
            result = rig.run(proposal.settings)
            study.record(
                result.outcome,
                failed_after_s=result.failed_after_s,
                minutes=result.minutes,
            )
            runs += 1
        for point in (p for p in study.frontier().points if p.asked):
            bench = rig.at(point.along)
            best = bench.best_sound()
            if point.kept is None or best is None:
                right += point.kept is None and best is None
                continue
            sound = bench.pass_probability(point.kept) >= 0.9
            right += sound and (best - point.kept) / rig.part.step <= 1 + 1e-9
    assert right >= 0.88 * RIGS * 9
    assert runs <= 40 * RIGS


def test_a_value_to_keep_is_one_that_a_run_bears_out():
    """Voltages without a run have none; the best is stock's pass, off the asked voltages too."""
    raw = definition()
    raw["knob"][1] |= {"step": 0.01, "stock": 0.93}
    study = Study.create(raw)
    study.record("pass", settings={})
    points = {point.along: point for point in study.frontier().points}
    assert points[0.93].holding is Holding.HELD
    assert points[0.93].kept == 80
    assert not points[0.93].asked
    assert points[1.2].holding is Holding.NONE_YET
    assert points[1.2].kept is None
    assert study.frontier().best == 0.93
    assert study.recommendation().settings == {"clock": 80, "volts": 0.93}


def test_before_anything_has_held_the_best_guess_is_stock():
    """A crash at another voltage does not make that one the guess."""
    study = Study.create(definition())
    assert study.recommendation().settings == {"clock": 80, "volts": 0.9}
    study.record("crash", settings={"clock": 120, "volts": 1.2})
    assert study.recommendation().settings == {"clock": 80, "volts": 0.9}
    assert all(point.kept is None for point in study.frontier().points)


def test_where_the_easiest_clock_fails_nothing_holds():
    """Told of the voltages at which it was run; above the ceiling it is: not permitted."""
    study = Study.create(definition())
    for volts in (0.6, 0.7, 0.8):
        for _ in range(4):
            study.record("crash", settings={"clock": 40, "volts": volts})
    points = {point.along: point for point in study.frontier().points}
    assert {points[v].holding for v in (0.6, 0.7, 0.8)} == {Holding.NOTHING}
    assert points[1.3].holding is Holding.NOT_PERMITTED


def test_a_frontier_without_a_permitted_voltage_has_no_point():
    """It says why, and proposes nothing."""
    raw = definition()
    raw["rule"] = [{"name": "floor", "holds": "volts >= 2", "kind": "hard"}]
    study = Study.create(raw)
    assert study.frontier().points == ()
    assert study.next() is None
    assert "rule floor is broken" in (study.closing() or "")


def test_runs_that_contradict_each_other_leave_numbers():
    """Hundreds of passes and crashes at clocks far apart from one voltage to the next."""
    study = Study.create(definition())
    for place, volts in enumerate((0.6, 0.7, 0.8, 0.9, 1.0, 1.1, 1.2)):
        for clock in range(60, 140, 4):
            holds = clock < (130 if place % 2 else 70)
            for _ in range(3):
                study.record(
                    "pass" if holds else "crash", settings={"clock": clock, "volts": volts}
                )
    points = [point for point in study.frontier().points if point.asked]
    assert all(0 <= point.pass_probability <= 1 for point in points)
    kept = [point.kept or 0 for point in points if point.runs]
    assert [value > 100 for value in kept] == [False, True] * 3 + [False]


@pytest.mark.slow
def test_the_chance_lies_in_its_interval():
    """A mean that a small chance of failure everywhere pulls down is not left outside."""
    best = traced().recommendation()
    assert best.interval[0] <= best.pass_probability <= best.interval[1]


@pytest.mark.slow
def test_an_untried_voltage_at_own_risk_is_not_preferred_to_a_sounder_one():
    """A pass at less voltage bears a value out above it; where it is in doubt it is not kept."""
    study = Study.create(definition())
    for run in traced().history.runs:
        study.record(run.outcome, settings=run.settings)
    everyday = study.recommendation().settings
    study.accept_risk("volts", 1.3)
    best = study.recommendation()
    assert best.pass_probability >= 0.9
    assert best.settings == everyday or float(best.settings["clock"]) > float(everyday["clock"])
