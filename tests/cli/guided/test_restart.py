"""A session begun after the planning machine was started anew asks how the run before ended."""

from pathlib import Path

import pytest

from planner import Study
from tests.cli.guided.held import Quick, held
from tests.study.makers import on_disk


@pytest.fixture
def study(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Study:
    """A study whose pending run was asked for on an earlier boot."""
    monkeypatch.setattr("planner.study.boot_mark", lambda: "one")
    on_disk(tmp_path / "s").next()
    monkeypatch.setattr("planner.study.boot_mark", lambda: "other")
    monkeypatch.setattr("planner.cli.guided.view.boot_mark", lambda: "other")
    return Study.open(tmp_path / "s")


@pytest.mark.parametrize(
    ("line", "outcome"), [("c", "crash"), ("n", "no-start"), ("p", "pass"), ("v", "void")]
)
def test_it_is_asked_first(study: Study, line: str, outcome: str) -> None:
    """The run itself is not shown again; the answer, however fast, is its answer."""
    session = held(study, Quick(line))
    before, _, after = session.said.partition(f"run 1> {line}")
    assert "was asked for before this machine was last started" in " ".join(before.split())
    assert "Run 1 of study" not in session.said
    assert f"Run 1 recorded: {outcome}" in after
    assert "Run 2 of study" in after


def test_facts_can_be_told_with_it(study: Study) -> None:
    """As at any prompt."""
    held(study, "c after 85s hang hot=81")
    (run,) = study.history.runs
    assert (run.failed_after_s, run.symptom, run.readings) == (85, "hang", {"hot": 81})


def test_it_may_still_have_to_be_run(study: Study) -> None:
    """`again` shows it as ever, and writes nothing."""
    head = study.head
    session = held(study, "again")
    assert "Run 1 of study" in session.said
    assert study.head == head
    held(study, "again", "c 20s")
    assert [(run.number, run.outcome) for run in study.history.runs] == [(1, "crash")]


def test_on_one_boot_nothing_is_asked(study: Study, monkeypatch: pytest.MonkeyPatch) -> None:
    """A session left and begun anew shows the run as it was."""
    monkeypatch.setattr("planner.cli.guided.view.boot_mark", lambda: "one")
    session = held(study)
    assert "before this machine was last started" not in session.flat
    assert "Run 1 of study" in session.said
