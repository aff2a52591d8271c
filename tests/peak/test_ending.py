"""Late in the evening: what still fits, what a failure would take, and the best once more."""

import numpy as np
import pytest

from planner import Study
from planner.peak.attempts import Attempts
from planner.peak.ending import left_by_end
from planner.peak.plan import peak_plan
from tests.models.joint.bench import small
from tests.peak.evenings import played

STOCK = {"clock": 4200.0, "volts": 1.1, "gap": 34.0}


def left(minutes: float, dial: float = 3.0) -> float:
    """Of a gain at 0.6 to hold and 0.1 not to start; a run takes 5, one anew 10 minutes."""
    attempts = Attempts(np.array([dial]), 5.0, 4.0, 8.0)
    return float(left_by_end(attempts, minutes, 10.0, np.array([0.9]), np.array([0.6]))[0])


def test_long_before_the_end_nothing_is_taken() -> None:
    """Dialling, the worst recovery and one more run: 3 + 8 + 10."""
    assert left(21.0) == 1.0
    assert left(200.0) == 1.0


def test_a_failure_takes_what_no_longer_fits() -> None:
    """By hand, 12 minutes before the end: a crash leaves 5 of 10, a run that did not start 1."""
    assert left(12.0) == pytest.approx(1 - 0.3 * 0.5 - 0.1 * 0.9)


def test_a_run_that_ends_too_late_gains_nothing() -> None:
    """3 to dial in and 5 to run."""
    assert left(8.0) > 0
    assert left(7.9) == 0


@pytest.mark.parametrize("minutes", [8.0, 10.0, 14.0, 18.0])
def test_fewer_changes_are_worth_more_late(minutes: float) -> None:
    """With all else the same."""
    assert left(minutes, dial=0.5) > left(minutes)


def ending(minutes: float, passes: int = 1) -> Study:
    """So many minutes are left of an evening in which stock scored so often."""
    study = Study.create(small(minutes=100 + minutes))
    for _ in range(passes):
        study.record("pass", settings=STOCK, minutes=100 / passes, score=100)
    return study


def test_the_best_is_confirmed_where_nothing_else_fits() -> None:
    """A run of 10 minutes fits as it is; anything dialled in does not."""
    proposal = ending(10.0).next()
    assert proposal is not None
    assert proposal.settings == STOCK
    assert proposal.reason.startswith("confirms the best")


def test_two_runs_of_the_best_are_enough() -> None:
    """Then the evening is over before its last minute, and says why."""
    study = ending(10.0, passes=2)
    assert study.next() is None
    assert study.closing() == ("minutes spent: 100 of 110, and no new run fits in the 10 min left")


def test_no_run_is_asked_for_that_would_end_too_late() -> None:
    """Not even of the best."""
    assert ending(9.0).next() is None


def test_late_proposals_are_safer_and_change_no_more() -> None:
    """The same runs, with and without an end in sight."""
    late, early = ending(13.0), ending(2000.0)
    one, other = late.next(), early.next()
    assert one is not None
    assert other is not None
    assert one.pass_probability > other.pass_probability
    assert len(one.changes) <= len(other.changes)
    assert "with 13 min left" in one.reason
    assert "min left" not in other.reason


def test_without_an_end_nothing_is_weighed_by_it() -> None:
    """Bench minutes that nobody bounded."""
    study = Study.create(small())
    study.record("pass", settings=STOCK, minutes=500, score=100)
    plan = peak_plan(study.history)
    assert (plan.search.worth(plan.offered).left == 1).all()
    assert plan.confirming is None


@pytest.mark.slow
@pytest.mark.parametrize("seed", [1, 2])
def test_all_of_an_evening_fits(seed: int) -> None:
    """Each proposal's dialling and run; what recovery after a failure takes may still go over."""
    knobs = ("memory_voltage", "memory_rate", "cas_latency", "row_to_column", "graphics_clock")
    study, _ = played(seed, 60, knobs, minutes=40)
    spent = study.history.minutes_spent
    assert study.closing() is not None
    assert spent <= 40 or study.history.runs[-1].outcome.failed
