"""Taking answers back: a mended evening is the evening that was told right at first."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner import Study
from planner.domain.event import Kind
from planner.history import History
from planner.strategies import STRATEGIES
from tests.cli.guided.held import held
from tests.cli.guided.lines import LETTERS, typed
from tests.study.makers import bench_tables, events_of, holding, known, look
from tests.study.stories import Facts, runs

PASSING = {"verdict", "milestones", "next_number", "pending"}
"""What may differ: verdicts given meanwhile, and numbers, which are used once."""


def told(history: History) -> dict[str, Any]:
    """All that a history tells but what only says how it came about."""
    rest = {name: value for name, value in known(history).items() if name not in PASSING}
    return rest | {"runs": [run | {"number": 0} for run in rest["runs"]]}


@pytest.mark.slow
@settings(max_examples=60)
@given(st.lists(st.tuples(runs(), st.none() | runs()), min_size=1, max_size=4))
def test_answered_anew_is_answered_right_at_first(
    evening: list[tuple[Facts, Facts | None]],
) -> None:
    """Each mistake is taken back at once: all facts of it are gone, and the next run is the same.

    A machine that passed everything would close the study early; the runs are asked for all the
    same, since the study was reopened.
    """
    mended, right = Study.create(bench_tables()), Study.create(bench_tables())
    mended.reopen()
    right.reopen()
    lines: list[str] = []
    for first, mistake in evening:
        lines += [typed(mistake), "u", typed(first)] if mistake else [typed(first)]
    held(mended, *lines)
    held(right, *(typed(first) for first, _ in evening))
    assert told(mended.history) == told(right.history)
    assert look(mended.next()) == look(right.next())


@settings(max_examples=40)
@given(st.lists(runs(), min_size=1, max_size=4), st.data())
def test_going_further_back(evening: list[Facts], data: st.DataObject) -> None:
    """Any earlier answer is mended, those after it stay: own runs, told anew at their settings."""
    place = data.draw(st.integers(0, len(evening) - 1))
    mistake = data.draw(runs()) | {"settings": evening[place]["settings"]}
    wrong = [*evening[:place], mistake, *evening[place + 1 :]]
    mended, right = Study.create(bench_tables()), Study.create(bench_tables())
    back = ["u"] * (len(evening) - place)
    held(mended, *(typed(one, own=True) for one in wrong), *back, typed(evening[place]))
    for one in evening:
        right.next()
        right.record(**one)
    assert [mended.history.runs[place].amended, told(mended.history)["runs"]] == [
        1,
        told(right.history)["runs"],
    ]


@pytest.mark.parametrize("strategy", STRATEGIES)
@pytest.mark.parametrize("mistake", ["p", "c 20s", "n", "v", "p score=9 hot=96 cold note x"])
def test_a_whole_evening_of_slips(strategy: str, mistake: str) -> None:
    """Every answer first wrong, then right: proposal for proposal as without a slip."""
    mended, right = (Study.create(bench_tables(strategy=strategy)) for _ in range(2))
    machine = holding(4600)
    for _ in range(5):
        asked, asked_too = mended.next(), right.next()
        assert look(asked) == look(asked_too)
        if asked is None:
            break
        outcome = LETTERS[machine(asked.settings)]
        held(mended, mistake, "u", outcome)
        held(right, outcome)
    assert told(mended.history) == told(right.history)


def test_the_run_asked_for_on_a_mistake_is_withdrawn() -> None:
    """It was never run; the reason stands in the ledger, and another number is asked for."""
    study = Study.create(bench_tables())
    session = held(study, "p", "u", "c 20s")
    kinds = [event.kind for event in events_of(study)][1:]
    assert kinds == [
        Kind.PROPOSED, Kind.RUN, Kind.PROPOSED, Kind.AMENDED, Kind.WITHDRAWN, Kind.PROPOSED,
    ]  # fmt: skip
    assert "before run 1 was mended" in events_of(study)[5].body["why"]
    assert "Run 2 is withdrawn: it was asked for on the answer just mended." in session.flat
    assert "not to be run any more" not in session.flat
    assert study.pending is not None
    assert study.pending.number == 3


@pytest.mark.parametrize("again", ["p", "p note the fan was off", ""])
def test_an_answer_that_stays_leaves_what_was_asked_for(again: str) -> None:
    """Told the same anew, with a remark, or kept by Enter: run 2 is still to be run."""
    study = Study.create(bench_tables())
    held(study, "p", "u", again)
    assert study.pending is not None
    assert study.pending.number == 2


def test_what_was_asked_for_before_an_own_run_stays() -> None:
    """The mended run was not among its reasons."""
    study = Study.create(bench_tables())
    held(study, "own clock=4300 p", "u", "c")
    assert study.pending is not None
    assert (study.pending.number, study.history.by_number[2].outcome) == (1, "crash")


def test_undo_alone_changes_nothing() -> None:
    """Until it is told anew an answer stands, also when the session is left before."""
    study = Study.create(bench_tables())
    study.next()
    study.record("crash", failed_after_s=20)
    study.next()
    head = study.head
    session = held(study, "u")
    assert "no answer of this session to take back" in session.flat
    session = held(study, "p", "u", "u", "q")
    assert "is on record as pass. What was it really?" in session.flat
    assert "Run 2 is the first answer of this session." in session.flat
    assert [run.outcome for run in study.history.runs] == ["crash", "pass"]
    assert study.history.runs[1].amended == 0
    assert head.seq + 2 == study.head.seq


def test_enter_keeps_it_and_goes_on() -> None:
    """The prompt comes back to the pending run; the next undo begins at the last answer again."""
    study = Study.create(bench_tables())
    session = held(study, "p", "c", "u", "u", "", "u")
    assert "Run 1 stays as it is on record." in session.flat
    prompts = [line for line in session.said.split("\n") if line.startswith("run ")]
    assert [prompt.split("> ")[0] for prompt in prompts] == [
        "run 1", "run 2", "run 3", "run 2 anew", "run 1 anew", "run 3", "run 2 anew",
    ]  # fmt: skip


def test_what_is_refused_can_be_told_again() -> None:
    """The run stays in hand, and on record as it was."""
    study = Study.create(bench_tables())
    session = held(study, "p", "u", "c 5000s", "p 85s", "c 40s")
    assert session.said.count("Nothing was recorded") == 2
    assert "run 1 anew> c 40s" in session.flat
    assert study.history.runs[0].failed_after_s == 40


def test_it_was_another_setting() -> None:
    """Told as a run of one's own: the mistaken one is struck, the other recorded."""
    study, right = Study.create(bench_tables()), Study.create(bench_tables())
    held(study, "p score=900", "u", "own clock=4300 c 20s")
    right.next()
    right.record("crash", settings={"clock": 4300}, failed_after_s=20)
    first, second = study.history.runs
    assert (first.outcome, first.score) == ("void", None)
    assert told(study.history)["runs"][1:] == told(right.history)["runs"]
    assert (second.settings["clock"], study.history.machine) == (4300, right.history.machine)


def test_a_slip_that_closed_the_study_is_taken_back() -> None:
    """The prompt stays once it is closed, so that the last answer can be mended."""
    study = Study.create(bench_tables(minutes=12))
    session = held(study, "p", "c", "u", "v")
    assert "closed> u" in session.flat
    assert "has nothing left to propose" in session.flat
    assert session.said.rstrip().endswith("planner guide")
    assert session.code == 0
    assert study.pending is not None
