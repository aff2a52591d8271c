"""After a restart of the planning machine the pending run is asked about first."""

import json

import pytest

from tests.cli.typed import ledger, made, planner, told


@pytest.fixture
def restarted(monkeypatch: pytest.MonkeyPatch) -> None:
    """A study with a pending proposal from an earlier boot."""
    for place in ("planner.bench.boot_mark", "planner.study.boot_mark"):
        monkeypatch.setattr(place, lambda: "one")
    made()
    told("next")
    monkeypatch.setattr("planner.bench.boot_mark", lambda: "other")


@pytest.mark.usefixtures("restarted")
def test_the_answer_is_owed_first() -> None:
    """Exit code 4 with the possible answers; --again shows the proposal once more."""
    owed = planner("next")
    assert owed.exit_code == 4
    assert owed.stdout == ""
    for way in ("record crash", "record no-start", "record pass", "record void", "next --again"):
        assert f"planner {way}" in owed.stderr
    assert "Run 1 of box" in told("next", "--again").stdout


@pytest.mark.usefixtures("restarted")
def test_programs_are_told_so_too() -> None:
    """--json carries the proposal and that its answer is owed."""
    owed = planner("next", "--json")
    document = json.loads(owed.stdout)
    assert (owed.exit_code, document["answer_owed"], document["proposal"]["run"]) == (4, True, 1)


@pytest.mark.usefixtures("restarted")
def test_once_answered_it_goes_on(monkeypatch: pytest.MonkeyPatch) -> None:
    """Any answer settles it."""
    monkeypatch.setattr("planner.study.boot_mark", lambda: "other")
    told("record", "void")
    assert "Run 2 of box" in told("next").stdout


@pytest.mark.usefixtures("restarted")
@pytest.mark.parametrize("answer", ["crash", "no-start", "pass", "void"])
def test_on_a_terminal_it_asks(answer: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """The answer is recorded for the pending run and the next proposal follows at once."""
    monkeypatch.setattr("planner.cli.next.interactive", lambda: True)
    asked = planner("next", typed=f"what?\n{answer}\n")
    assert asked.exit_code == 0
    assert f"Run 1 recorded: {answer}" in asked.stderr
    assert "Run 2 of box" in asked.stdout


@pytest.mark.usefixtures("restarted")
def test_again_on_a_terminal_writes_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """The proposal is shown and stays pending."""
    monkeypatch.setattr("planner.cli.next.interactive", lambda: True)
    from pathlib import Path

    before = ledger(Path("studies/box"))
    assert "Run 1 of box" in planner("next", typed="again\n").stdout
    assert ledger(Path("studies/box")) == before


def test_without_a_restart_nothing_is_asked() -> None:
    """On one boot the same proposal is simply shown again."""
    made()
    told("next")
    told("next")
