"""Answers that are asked about once more."""

import pytest

from planner import Study
from tests.cli.guided.held import Quick, Typed, held
from tests.study.makers import bench_tables

SURE = "sure? y or n> "


def outcomes(study: Study) -> list[str]:
    """How the runs on record ended."""
    return [str(run.outcome) for run in study.history.runs]


@pytest.fixture
def study() -> Study:
    """A study that nobody was asked about yet."""
    return Study.create(bench_tables())


@pytest.mark.parametrize("reply", ["y", "YES ", "p"])
def test_sure_is_recorded(study: Study, reply: str) -> None:
    """By yes, or by the same answer once more; it is asked once."""
    session = held(study, Quick("p"), Quick(reply))
    assert session.said.count(SURE) == 1
    assert "shown only 0.5 s ago" in session.flat
    assert outcomes(study) == ["pass"]


@pytest.mark.parametrize("reply", ["n", "No", "", "  "])
def test_not_sure_is_not_recorded(study: Study, reply: str) -> None:
    """There `n` means no, never a failure to start; the next answer is not asked about again."""
    session = held(study, Quick("n"), Quick(reply), Quick("c"))
    assert session.said.count(SURE) == 1
    assert outcomes(study) == ["crash"]


def test_anything_else_takes_its_place(study: Study) -> None:
    """The mended answer is typed at once; a question, or an order, too."""
    session = held(study, Quick("p"), "c 20s", Quick("p"), "?", "q")
    assert "How it ended" in session.flat
    assert outcomes(study) == ["crash"]


def test_the_end_of_input_is_no_yes(study: Study) -> None:
    """Nothing is recorded, and the run is pending."""
    session = held(study, Quick("p"))
    assert "Run 1 (clock" in session.flat
    assert outcomes(study) == []


def test_two_seconds_are_enough(study: Study) -> None:
    """And each run has its own."""
    session = held(study, Quick("p", 2.0), Quick("c", 1.9), "y")
    assert session.said.count(SURE) == 1
    assert outcomes(study) == ["pass", "crash"]


@pytest.mark.parametrize("line", ["own clock=4300 p", "note x", "u", "?", "show", ""])
def test_only_answers_to_the_run_can_be_hasty(study: Study, line: str) -> None:
    """A run of one's own was made before; an order answers nothing."""
    assert SURE not in held(study, Quick(line)).said


def test_a_run_that_was_pending_before_is_not_asked_about(study: Study) -> None:
    """The person comes with its result."""
    study.next()
    assert SURE not in held(study, Quick("c 20s")).said
    assert outcomes(study) == ["crash"]


def test_piped_lines_are_never_hasty(study: Study) -> None:
    """Nobody's hand slips there."""
    assert SURE not in held(study, Quick("c", 0), Quick("p", 0), person=False).said
    assert outcomes(study) == ["crash", "pass"]


@pytest.mark.parametrize("person", [True, False])
def test_a_score_far_off_is_asked_about(study: Study, person: bool) -> None:
    """Whoever types it, and whether it is typed for a run asked for, one's own, or anew."""
    study.record("pass", settings={}, score=240)
    lines: list[Typed] = ["p score=2401", "n", "own p score=2401", "p score=241"]
    session = held(study, *lines, "u", "p score=9", "y", person=person)
    assert session.said.count(SURE) == 3
    assert "Score 2401 lies far off the best, 240" in session.flat
    assert "Score 9 lies far off the best, 240" in session.flat
    assert [run.score for run in study.history.runs] == [240, 9]


def test_a_mended_score_is_not_measured_by_itself(study: Study) -> None:
    """The slip that is taken back is no best."""
    study.record("pass", settings={}, score=240)
    session = held(study, "p score=2401", "y", "u", "p score=240")
    assert session.said.count(SURE) == 1
    assert [run.score for run in study.history.runs] == [240, 240]


def test_many_odd_lines_in_a_row_are_no_trouble(study: Study) -> None:
    """Each takes the place of the one before; none is recorded unasked."""
    study.record("pass", settings={}, score=240)
    held(study, *(f"p score={9000 + n}" for n in range(3000)))
    assert len(study.history.runs) == 1
