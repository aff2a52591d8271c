"""The hand-work rules on a clean edge, where their answer can be told beforehand."""

from collections import Counter
from dataclasses import replace

import pytest

from planner.domain.grid import Grid
from planner.domain.knob import Knob, Where
from planner.rigs.families import slack_rig
from planner.rigs.one_knob import OneKnobRig
from planner.rigs.slack import Slack
from tests.evidence.one_knob import load

by_hand, bench_of, scoring = load("by_hand"), load("bench"), load("scoring")


def clean_rig(edge: float, values: int = 21) -> OneKnobRig:
    """A rig whose values always hold below the edge and never above; stock is the third."""
    grid = Grid(0.0, values - 1.0, 1.0)
    knob = Knob("knob", 2.0, grid, where=Where.LIVE)
    return replace(slack_rig(0), knob=knob, physics=Slack(edge, 0.001, 0.001), stray=0.0)


@pytest.mark.parametrize(
    ("rule", "confirming"),
    [(by_hand.climb_by_one, 3), (by_hand.climb_by_four, 5), (by_hand.bisection, 8)],
)
@pytest.mark.parametrize("edge", [2.5, 9.5, 19.5, 40.0])
def test_a_clean_edge_is_found_exactly(rule, confirming: int, edge: float) -> None:
    """Each rule ends at the hardest value that holds, and runs it as often as it says."""
    bench = bench_of.Bench(clean_rig(edge))
    answer = rule(bench)
    assert answer.index == min(20, int(edge))
    ran = Counter(index for index, _ in bench.log)
    assert confirming <= ran[answer.index] <= confirming + 1


@pytest.mark.parametrize("rule", [by_hand.climb_by_one, by_hand.climb_by_four, by_hand.bisection])
def test_an_unsound_stock_value_is_left_downwards(rule) -> None:
    """Where the stock value fails, confirming backs off below it; where all fail, nothing is."""
    assert rule(bench_of.Bench(clean_rig(0.5))).index == 0
    assert rule(bench_of.Bench(clean_rig(-3.0))).index is None


@pytest.mark.parametrize(
    ("index", "sound", "sharp"),
    [(9, True, True), (8, True, True), (7, True, False), (10, False, True), (None, True, False)],
)
def test_answers_are_judged_by_the_truth(index: int | None, sound: bool, sharp: bool) -> None:
    """Sound: holds at the target. Sharp: at most one step below the best sound value, here 9."""
    rig = clean_rig(9.5)
    judged = scoring.score(bench_of.Bench(rig), bench_of.Answer(index), scoring.Truth.of(rig))
    assert (judged.sound, judged.sharp) == (sound, sharp)
