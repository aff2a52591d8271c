"""Pictures of peak attempts: scores and stated chances over the minutes, the edges of all knobs."""

from dataclasses import replace
from itertools import accumulate

import pytest

from planner.domain.event import Event, Kind
from planner.domain.knob import Harder
from planner.domain.tables import Aim
from planner.history import History
from planner.models.claim import Claim
from planner.models.findings import Edge, Recommendation
from planner.models.separation import Separation
from planner.report.pictures.edge.joint.data import JointEdges, joint_edges
from planner.report.pictures.edge.joint.figure import joint_figure
from planner.report.pictures.edge.joint.words import alternative as joint_words
from planner.report.pictures.picture import Wanted
from planner.report.pictures.progress.climb.data import climb
from planner.report.pictures.progress.climb.figure import climb_figure
from planner.report.pictures.progress.climb.words import alternative
from planner.report.pictures.table import picture_named, usual_for
from planner.searching import Searching
from tests.report.pictures.seen import outside, overlapping
from tests.report.pictures.studies import STUDIES, history
from tests.report.pictures.test_progress_data import CROWDS

BEAT = (("mine", 2300.0), ("far off", 90000.0))
every_study = pytest.mark.parametrize("name", [*STUDIES, *CROWDS])


def peak(name: str, aim: Aim = Aim.PEAK) -> History:
    """One of the studies as if it had that aim, and every other run was asked for."""
    told = CROWDS[name]() if name in CROWDS else history(name)
    now = told.definition
    goal = replace(now.goal, aim=aim)
    workload = replace(now.workload, beat=BEAT)
    now = replace(now, goal=goal, workloads={**now.workloads, workload.name: workload})
    runs = tuple(
        run._replace(asked=asking(run.number) if run.number % 2 else None) for run in told.runs
    )
    return replace(told, definitions=(*told.definitions[:-1], now), runs=runs)


def asking(number: int) -> Event:
    """The entry that asked for a run, with a chance that its number tells."""
    body = {"run": number, "pass_probability": round(0.9 - number % 7 / 10, 2)}
    return Event(number, "", "left", "", Kind.PROPOSED, body)


@every_study
def test_every_run_is_drawn_once_at_its_stated_chance(name: str) -> None:
    """Runs of one's own have none; the sum of the chances is what was to be expected."""
    told = peak(name)
    picture = climb(told)
    assert sum(mark.count for mark in picture.taken) == len(told.evidence)
    own = sum(mark.count for mark in picture.taken if mark.chance is None)
    assert own == sum(run.asked is None for run in told.evidence)
    stated = [run.asked.body["pass_probability"] for run in told.evidence if run.asked]
    assert picture.expected == pytest.approx(sum(stated))
    assert picture.passed == sum(run.outcome.held for run in told.evidence if run.asked)
    if not picture.gathered:
        ends = set(accumulate(run.minutes for run in told.evidence))
        assert {mark.minutes for mark in picture.taken} == ends


@every_study
def test_no_text_of_the_climb_overlaps_another(name: str) -> None:
    """Nor is any cut at the border; the chances stand below the scores, on one scale."""
    picture = climb(peak(name))
    figure = climb_figure(picture)
    assert outside(figure) == []
    assert overlapping(figure) == []
    assert len(figure.axes) == (1 if picture.scores is None else 2)
    assert len({axes.get_xlim() for axes in figure.axes}) == 1


def test_the_climb_says_risk_noise_and_what_is_to_beat() -> None:
    """In the words that stand for the picture; a score out of reach is told, not drawn."""
    picture = climb(peak("an evening"))
    words = alternative(picture)
    assert "2290, AT YOUR OWN RISK" in words
    assert "To beat: mine 2300. To beat: far off 90000" in words
    assert "19 times in 20" in words
    figure = climb_figure(picture)
    drawn = [text.get_text() for text in figure.axes[0].texts]
    assert "to beat: 2300\nmine" in drawn
    assert not any("far off" in text for text in drawn)
    assert "no score can be claimed" in alternative(climb(peak("choice")))


@pytest.mark.parametrize("aim", ["everyday", "trim"])
def test_what_must_keep_holding_is_drawn_without_scores_where_there_are_none(aim: str) -> None:
    """To trim there is none to be shown: runs at their stated chances, and how many held."""
    told = peak("an evening" if aim == "trim" else "choice", Aim(aim))
    picture = climb(told)
    held = sum(run.outcome.held for run in told.evidence)
    assert f"{held} of {len(told.evidence)} runs held" in alternative(picture)
    assert "score" not in alternative(picture)
    figure = climb_figure(picture)
    assert len(figure.axes) == 1
    assert outside(figure) == []
    assert overlapping(figure) == []
    assert usual_for(aim) == "progress"


def edges_of(told: History) -> JointEdges:
    """Edges made up: of each knob that is no support, over the middle of its range and beyond."""
    knobs = [k for k in told.definition.knobs.values() if k.harder is not Harder.CHOICE]
    edges = {}
    for place, knob in enumerate(k for k in knobs if not k.supports):
        low, high = sorted(knob.at_hardness(len(knob.values) * share) for share in (0.4, 1.2))
        middle = knob.at_hardness(len(knob.values) * 0.6)
        edges[knob.name] = Edge(
            knob.name, knob.unit, middle, (low, high), 0.9, 0.9, 0.0, 0.1, place, Separation.UNCLEAR
        )
    claim = Claim(0, 0, 0, 0.0, 0, 0, False)
    best = Recommendation(told.definition.stock, 0.9, (0.8, 0.95), 0.1, True, claim, ())
    return joint_edges(told, edges, best)


@every_study
def test_every_edge_has_a_row(name: str) -> None:
    """With what held and what failed at its values, by the ledger; no text covers another."""
    told = peak(name)
    picture = edges_of(told)
    for row in picture.rows:
        for values, held in ((row.held, True), (row.failed, False)):
            runs = [run for run in told.evidence if run.outcome.held is held]
            assert set(values) == {run.ran[row.knob.name] for run in runs}
    figure = joint_figure(picture)
    assert outside(figure) == []
    assert overlapping(figure) == []
    words = joint_words(picture)
    assert all(f"{row.knob.name}: keep {row.knob.show(row.kept)}" in words for row in picture.rows)
    assert "past" in "".join(text.get_text() for text in figure.axes[0].texts)


def test_a_peak_attempt_is_drawn_by_its_progress() -> None:
    """And its edge is that of all knobs: no knob alone is searched."""
    assert usual_for("peak") == "progress"
    told = peak("an evening")
    assert "best score" in picture_named("progress").prepare(told, Wanted(), Searching()).title
    drawn = picture_named("edge").prepare(told, Wanted(), Searching())
    assert "nearest to its edge" in drawn.title
    assert "read_delay: keep" in drawn.alternative
