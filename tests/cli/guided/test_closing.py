"""How a session ends: the study closes, the person leaves, the input is over."""

import pytest

from planner import Study
from tests.cli.guided.held import held
from tests.study.makers import bench_tables


def evening(**study: object) -> Study:
    """A new study in memory."""
    return Study.create(bench_tables(**study))


def test_a_closed_study_is_left_at_once() -> None:
    """Nothing to take back, nothing pending: the verdict, and exit code 3 as `next` gives."""
    study = evening()
    study.record("pass", settings={})
    study.close("enough for one night")
    session = held(study, "p")
    assert (session.code, session.left) == (3, 1)
    assert "Reason  enough for one night" in session.said
    assert "planner reopen" in session.said


def test_when_it_closes_the_reason_and_the_keep_are_said() -> None:
    """With what is owed and how to go on; one prompt more, for second thoughts."""
    session = held(evening(minutes=12, confidence=0.9), "own p", "p", "c 20s", "", "p")
    assert (session.code, session.left) == (3, 1)
    for said in ("Reason  minutes spent", "Best ", "Owed ", "raise minutes = 12 in study.toml"):
        assert said in session.said
    assert "u takes the last answer back" in session.flat


@pytest.mark.parametrize("leave", ["", "q", "quit", "exit"])
def test_once_closed_any_way_out_is_one(leave: str) -> None:
    """Exit code 3; nothing is pending, so nothing more is said."""
    session = held(evening(minutes=3), "p", leave)
    assert session.code == 3
    assert session.said.endswith(f"closed> {leave}")


def test_at_the_end_of_input_it_ends() -> None:
    """Closed or not: no loop, and what is pending is said."""
    assert held(evening(minutes=3), "p").code == 3
    session = held(evening())
    assert session.code == 0
    assert "Run 1 (clock" in session.flat
    assert session.flat.endswith(
        "is pending, all before it is on record. Nothing is lost; go on with planner guide"
    )


def test_an_answer_with_nothing_left_to_answer() -> None:
    """It is not taken for anything; own runs and notes still are."""
    study = evening(minutes=3)
    session = held(study, "p", "c", "own clock=4300 c", "note cold night")
    assert "Nothing was recorded: no run is pending" in session.flat
    assert [run.outcome for run in study.history.runs] == ["pass", "crash"]
    assert study.history.runs[1].note == "cold night"


def test_late_in_the_evening_it_says_so() -> None:
    """Once fewer minutes are left than two runs take, and once not even one fits."""
    early = held(evening(minutes=60)).flat
    assert "Late" not in early
    assert "left, for this run alone." in held(evening(minutes=9)).flat
    assert (
        "Late: 2 min are left, and this run takes more than that." in held(evening(minutes=2)).flat
    )
    assert "Late" not in held(evening()).flat


def test_a_note_joins_the_last_answer() -> None:
    """After one that it had; without an answer in this session there is nothing to note."""
    study = evening()
    session = held(study, "note too early", "p note warm", "note and loud", "note " + "x" * 999)
    assert study.history.runs[0].note == "warm; and loud"
    assert session.flat.count("Nothing was recorded") == 2


def test_skip_says_what_can_be_done_instead() -> None:
    """The same would be asked for again, so nothing is written."""
    study = evening()
    study.next()
    head = study.head
    session = held(study, "skip", suffix=" -s box")
    assert "Without a new outcome the same setting would only be asked for again" in session.flat
    assert "planner close -s box" in session.said
    assert study.head == head


def test_risk_is_marked_as_elsewhere() -> None:
    """A run asked for above an everyday ceiling, and one of the person's own above it."""
    tables = bench_tables()
    tables["knob"][0] |= {"everyday": 4300, "own_risk": 4900}
    study = Study.create(tables)
    study.accept_risk("clock", 4900)
    session = held(study, "own clock=4600 p", "own clock=4700 p")
    proposal = session.said.rpartition("Run 1 of study")[2]
    assert "AT YOUR OWN RISK: above the everyday ceiling of clock" in proposal
    assert "clock 4700 MHz is above the everyday ceiling (recorded, not refused)" in session.flat
