"""What goes into the progress picture: every run once, the band, the best, scores, marks."""

from functools import cache
from itertools import pairwise

import pytest

from planner.domain.event import Kind
from planner.domain.outcome import Outcome
from planner.history import History
from planner.models.edge_search import edge_search
from planner.report.pictures.endings import Ending
from planner.report.pictures.progress.data import Progress, progress
from planner.report.pictures.progress.runs import MANY, ROWS, TIMES
from planner.report.pictures.progress.words import conditions
from tests.report.pictures.frontier_studies import STUDIES as FRONTIERS
from tests.report.pictures.studies import CLOCK, GEAR, STUDIES, VOLTS, crowd, history, new, told

CROWDS = {"crowd": lambda: crowd(1500, 60, 60)}
every_history = pytest.mark.parametrize("name", [*STUDIES, *CROWDS])


def of(name: str) -> History:
    """The history of that name."""
    return CROWDS[name]() if name in CROWDS else history(name)


@cache
def drawn(name: str) -> Progress:
    """Its picture."""
    picture = progress(of(name))
    assert picture is not None
    return picture


@every_history
def test_every_run_is_counted_once(name: str) -> None:
    """By its ending; none is lost where many share a mark."""
    picture, evidence = drawn(name), of(name).evidence
    assert sum(mark.count for mark in picture.tried) + picture.unplaced == len(evidence)
    for outcome, ending in [
        (Outcome.CRASH, Ending.CRASH),
        (Outcome.NO_START, Ending.NO_START),
        (Outcome.ERRORS, Ending.ERRORS),
    ]:
        shown = sum(mark.count for mark in picture.tried if mark.ending is ending)
        assert shown == sum(run.outcome is outcome for run in evidence)


@pytest.mark.parametrize("name", STUDIES)
def test_a_run_stands_at_its_end_and_at_what_really_ran(name: str) -> None:
    """Minutes summed run by run; void ones cost none of them."""
    picture, evidence = drawn(name), of(name).evidence
    spent, places = 0.0, []
    for run in evidence:
        spent += run.minutes
        places.append((spent, run.ran[picture.knob.name]))
    assert sorted((m.minutes, m.value) for m in picture.tried) == sorted(places)
    assert picture.minutes == pytest.approx(spent)


def test_of_many_runs_each_mark_stays_near_its_runs() -> None:
    """Within the minutes and the values that share it; the marks' number is bounded."""
    picture, evidence = drawn("crowd"), of("crowd").evidence
    assert len(evidence) > MANY
    assert picture.gathered is not None
    assert len({m.value for m in picture.tried}) <= ROWS
    values = [float(run.ran["core_clock"]) for run in evidence]
    height = (max(values) - min(values)) / ROWS
    spent = 0.0
    for run in evidence:
        spent += run.minutes
        assert any(
            abs(m.minutes - spent) <= picture.gathered
            and abs(m.value - float(run.ran["core_clock"])) <= height / 2 + 1e-9
            for m in picture.tried
        )
    assert {int(m.minutes / picture.gathered) for m in picture.tried} <= set(range(TIMES))


@every_history
def test_the_band_ends_in_the_edge_as_it_stands(name: str) -> None:
    """Its first point is the prior at no minutes, its last the study's own interval."""
    picture, search = drawn(name), edge_search(of(name))
    assert search is not None
    ends = sorted(search.knob.at_hardness(end) for end in search.posterior.interval())
    last = picture.band[-1]
    assert (last.low, last.high) == pytest.approx(tuple(ends), abs=1e-6)
    assert picture.band[0].minutes == 0
    assert last.minutes == pytest.approx(picture.minutes)
    assert all(a.minutes <= b.minutes for a, b in pairwise(picture.band))
    assert len(picture.band) <= 62


def test_the_best_rises_with_nominal_passes_at_the_study_s_values() -> None:
    """By hand: 5000 and 5150 MHz passed at 1.2 V; higher ones at more volts, or between."""
    picture = drawn("an evening")
    assert [value for _, value in picture.best] == [5000, 5150]
    assert picture.best[0][0] == 12
    assert not picture.risked


def test_runs_at_own_risk_are_told_of() -> None:
    """Those of the evening at 1.3 V."""
    evidence = of("an evening").evidence
    risky = [r for r in evidence if r.ran["core_voltage"] > 1.25 or r.ran["core_clock"] > 5350]
    assert drawn("an evening").at_risk.runs == len(risky) == 3
    assert f"{len(risky)} runs AT YOUR OWN RISK" in conditions(drawn("an evening"))


def test_a_best_above_the_everyday_ceiling_is_at_own_risk() -> None:
    """5375 MHz lies above 5350."""
    made = new(CLOCK, VOLTS)
    told(made, "pass", 5375)
    picture = progress(made.history)
    assert picture is not None
    assert picture.risked


def test_runs_aside_are_those_beside_other_values_or_of_another_workload() -> None:
    """Seven of the evening: four at more volts, two at other delays, one glance."""
    assert drawn("an evening").aside == 7


def test_scores_of_the_workload_with_those_that_count_apart() -> None:
    """Capped and failed ones are no best, the glance's score is of another scale."""
    scores = drawn("an evening").scores
    assert scores is not None
    assert [(m.score, m.claimable) for m in scores.marks] == [
        (2100, True),
        (2180.5, True),
        (2230, False),
        (2190, False),
        (2290, True),
    ]
    assert [score for _, score in scores.best] == [2100, 2180.5, 2290]
    assert scores.risked
    assert scores.elsewhere == 1


def test_without_scores_there_is_no_second_panel() -> None:
    """Nor where other workloads alone were scored."""
    made = new(CLOCK, VOLTS)
    told(made, "pass", 5000, workload="glance", score=3)
    picture = progress(made.history)
    assert picture is not None
    assert picture.scores is None
    assert drawn("down").scores is None


def test_failed_runs_cost_their_minutes_and_restarts() -> None:
    """Summed over the runs; each has its span, and spans lie within the evening in order."""
    picture, evidence = drawn("an evening"), of("an evening").evidence
    failed = [run for run in evidence if run.outcome.failed]
    lost = picture.lost
    assert lost.runs == len(failed) == 6
    assert lost.minutes == pytest.approx(sum(run.minutes for run in failed))
    assert lost.restarts == sum(run.outcome.restarts for run in failed) == 4
    assert sum(end - start for start, end in lost.spans) == pytest.approx(lost.minutes)
    assert all(a[1] <= b[0] + 1e-9 for a, b in pairwise(lost.spans))


def test_what_was_told_between_runs_is_marked_there() -> None:
    """The change after three runs, the risk after seven."""
    picture, evidence = drawn("an evening"), of("an evening").evidence
    assert [(t.kind, t.words) for t in picture.told] == [
        (Kind.CHANGED, "changed: firmware 7"),
        (Kind.ACCEPTED, "AT YOUR OWN RISK: core_voltage accepted to 1.3 V"),
    ]
    for mark, after in zip(picture.told, (3, 7), strict=True):
        assert mark.minutes == pytest.approx(sum(run.minutes for run in evidence[:after]))
    assert [t.words for t in drawn("closed").told] == ["closed"]


def test_a_risk_taken_back_is_no_risk_accepted() -> None:
    """Accepting the everyday ceiling takes it back."""
    made = new(CLOCK, VOLTS)
    made.accept_risk("core_voltage", 1.3)
    told(made, "pass", 5000)
    made.accept_risk("core_voltage", 1.25)
    picture = progress(made.history)
    assert picture is not None
    assert [t.words for t in picture.told] == [
        "AT YOUR OWN RISK: core_voltage accepted to 1.3 V",
        "own risk of core_voltage taken back",
    ]


@every_history
def test_everything_drawn_lies_in_the_picture(name: str) -> None:
    """Runs, best value and the edge as it stands."""
    picture = drawn(name)
    places = [mark.value for mark in picture.tried] + [value for _, value in picture.best]
    assert all(0 < picture.up(value) < 1 for value in places)


def test_a_study_of_choices_alone_has_no_progress() -> None:
    """There is no edge of unordered values."""
    only = new(GEAR | {"name": "mode"}, GEAR, knob="")
    assert progress(only.history) is None


def test_of_a_frontier_it_follows_the_station_to_keep() -> None:
    """1.26 V at own risk: what held at 1.24 V, harder, speaks for it, and no easier voltage's."""
    made = FRONTIERS["own risk accepted"]()
    picture = progress(made.history)
    best = made.recommendation(everyday_only=False).settings
    assert picture is not None
    assert picture.place == f"at volts {best['volts']} V"
    assert picture.held_at == " at volts 1.24 V, which speaks for 1.26 V"
    assert picture.best[-1][1] == best["clock"] == 5200
    assert picture.risked
    made.record("pass", settings={"clock": 5300, "volts": 1.3})
    later = progress(made.history)
    assert later is not None
    assert (later.place, later.held_at) == ("at volts 1.3 V", " at volts 1.3 V")
    assert later.best[-1][1] == 5300
