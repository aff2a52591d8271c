"""Which answers are asked about once more."""

from typing import Any

import pytest

from planner import Study
from planner.cli.guided.answer import Answer
from planner.cli.guided.doubts import Doubt, doubt
from planner.domain.outcome import Outcome
from planner.domain.run import Run
from tests.study.makers import bench_tables


def scored(*scores: float | None, **facts: Any) -> tuple[Run, ...]:
    """Passes with these scores."""
    study = Study.create(bench_tables())
    for score in scores:
        study.record("pass", settings={}, score=score, **facts)
    return study.history.runs


@pytest.mark.parametrize("score", [None, 24.0, 240.0, 2400.0])
def test_a_score_within_tenfold_is_taken(score: float | None) -> None:
    """Of the best, both ends included; no score is no doubt."""
    facts = {} if score is None else {"score": score}
    assert not doubt(Answer(Outcome.PASS, facts), scored(200.0, 240.0), None)


@pytest.mark.parametrize("score", [0.0, 23.9, 2400.1, 24000.0])
def test_a_score_far_off_is_asked_about(score: float) -> None:
    """More than ten times the best, or under a tenth of it."""
    found = doubt(Answer(Outcome.PASS, {"score": score}), scored(200.0, 240.0), None)
    assert found == Doubt(None, score, 240.0)


@pytest.mark.parametrize("earlier", [(), scored(None), scored(9.0, capped="score")])
def test_without_a_best_no_score_is_odd(earlier: tuple[Run, ...]) -> None:
    """A first score, or one after capped runs alone, has nothing to be measured by."""
    assert not doubt(Answer(Outcome.PASS, {"score": 9e9}), earlier, None)


@pytest.mark.parametrize(
    ("since", "hasty"), [(0.0, True), (1.99, True), (2.0, False), (9e9, False), (None, False)]
)
def test_two_seconds_are_too_few(since: float | None, hasty: bool) -> None:
    """For any outcome; None: the run was known before."""
    for outcome in Outcome:
        assert doubt(Answer(outcome, {}), (), since).seconds == (since if hasty else None)
