"""An amended ledger is the ledger that would have been written had it been right at first."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner import Study
from planner.errors import RecordError
from planner.strategies import STRATEGIES
from tests.study.makers import bench_tables, holding, known, look
from tests.study.stories import Facts, histories, mend, record, runs

pytestmark = pytest.mark.slow


@settings(max_examples=60)
@given(st.lists(st.tuples(runs(), st.none() | runs()), min_size=1, max_size=5))
def test_amended_is_recorded_right_at_first(told: list[tuple[Facts, Facts | None]]) -> None:
    """Outcome, settings, times, scores, readings, boots: each mended after all were recorded."""
    mended, right = Study.create(bench_tables()), Study.create(bench_tables())
    for first, mistaken in told:
        # A mistake may leave out knobs or name others; what it names is mended by name.
        named = {**(mistaken or first)["settings"], **first["settings"]}
        record(right, first | {"settings": named})
        record(mended, mistaken or first)
    for number, (first, mistaken) in enumerate(told, 1):
        if mistaken is not None:
            mend(mended, number, first)
    assert known(mended.history) == known(right.history)
    assert look(mended.next()) == look(right.next())


@settings(max_examples=60)
@given(histories, st.data())
def test_mending_twice_is_mending_once(told: list[Facts], data: st.DataObject) -> None:
    """The last amendment of a fact counts."""
    twice, once = Study.create(bench_tables()), Study.create(bench_tables())
    for first in told:
        record(twice, first)
        record(once, first)
    number = data.draw(st.integers(1, len(told)))
    last = data.draw(runs()) | {"settings": {"clock": 4700, "volts": 1.2, "timing": 40}}
    mend(twice, number, data.draw(runs()))
    for study in (twice, once):
        mend(study, number, last)
    assert known(twice.history) == known(once.history)
    assert look(twice.next()) == look(once.next())


@pytest.mark.parametrize("strategy", STRATEGIES)
@pytest.mark.parametrize("mistake", ["pass", "crash", "no-start", "void"])
def test_answers_mended_at_once_leave_no_trace(strategy: str, mistake: str) -> None:
    """Two evenings, one with every answer first recorded wrong: proposal for proposal the same."""
    tables = bench_tables(strategy=strategy)
    mended, right = Study.create(tables), Study.create(tables)
    machine = holding(4600)
    for _ in range(5):
        asked, asked_too = mended.next(), right.next()
        assert look(asked) == look(asked_too)
        if asked is None:
            break
        outcome = machine(asked.settings)
        mended.record(mistake, boot="cold")
        mended.amend(asked.number, outcome=outcome, score=None, boot=None)
        right.record(outcome)
    assert known(mended.history) == known(right.history)


def test_an_answer_that_ran_elsewhere() -> None:
    """Set otherwise than asked: told at first with the number, or mended into it."""
    mended, right = Study.create(bench_tables()), Study.create(bench_tables())
    number = mended.next().number, right.next().number
    mended.record("crash", failed_after_s=10)
    mended.amend(1, settings={"volts": 1.25}, actual={"timing": 43}, failed_after_s=90)
    right.record(
        "crash", number=1, settings={"volts": 1.25}, actual={"timing": 43}, failed_after_s=90
    )
    assert number == (1, 1)
    assert known(mended.history) == known(right.history)
    assert mended.history.runs[0].settings["volts"] == 1.25


def test_taking_back_what_was_set_otherwise() -> None:
    """Settings given as None: it ran as it was asked for."""
    study = Study.create(bench_tables())
    asked = study.next()
    study.record("pass", number=asked.number, settings={"clock": 4300})
    assert study.amend(asked.number, settings=None).settings == asked.settings


def test_an_amendment_that_names_no_knobs_mends_none() -> None:
    """Those that it does not name stay as told before: here, all."""
    study = Study.create(bench_tables())
    study.record("pass", settings={"clock": 4500})
    assert study.amend(1, settings={}, note="x").settings["clock"] == 4500


def test_the_first_entry_stays() -> None:
    """An amendment is one more entry, and the run says how often it was amended."""
    study = Study.create(bench_tables())
    study.record("pass", settings={"clock": 4500}, score=900, note="as told first")
    seq = study.head.seq
    run = study.amend(1, outcome="crash", failed_after_s="30 s", note=None)
    assert (run.outcome, run.failed_after_s, run.score, run.note) == ("crash", 30.0, None, "")
    assert (run.amended, study.head.seq) == (1, seq + 1)
    assert study.amend(1, note="second").amended == 2


@pytest.mark.parametrize(
    ("amendment", "said"),
    [
        ({}, "nothing to amend"),
        ({"outcome": "fail"}, "outcome = 'fail': expected one of pass, crash"),
        ({"failed_after_s": 20}, "a pass has not failed"),
        ({"outcome": "errors"}, "expected their count"),
        ({"errors": 3}, "record the outcome errors"),
        ({"outcome": "crash", "score": 900}, "a crash has no score"),
        ({"outcome": "crash", "failed_after_s": 5000}, "failed_after_s = 5000"),
        ({"run_minutes": None}, "run_minutes: a run needs one"),
        ({"workload": None}, "workload: a run needs one"),
        ({"settings": {"clok": 4500}}, "'clok' is no knob"),
        ({"score": -1}, "score = -1"),
        ({"boot": "hot"}, "boot = 'hot'"),
    ],
)
def test_what_cannot_be_amended_is_refused(amendment: dict[str, Any], said: str) -> None:
    """Facts are checked against the run as it stands; nothing is written."""
    study = Study.create(bench_tables())
    study.record("pass", settings={"clock": 4500})
    head = study.head
    with pytest.raises(RecordError, match=said):
        study.amend(1, **amendment)
    with pytest.raises(RecordError, match="run = 7: is not on record, expected one of 1"):
        study.amend(7, outcome="void")
    assert study.head == head


def test_amending_to_stopped_needs_how_long_it_held() -> None:
    """As recording it does: a crash at 30 s is no five minutes held."""
    study = Study.create(bench_tables())
    study.record("crash", settings={"clock": 4500}, failed_after_s=30)
    with pytest.raises(RecordError, match="run_minutes"):
        study.amend(1, outcome="stopped")
