"""A closed study asks for nothing more; runs can still be told, and it can go on."""

from pathlib import Path

import pytest

from planner import Study
from planner.domain.event import Kind
from planner.errors import RecordError
from planner.strategies import STRATEGIES
from tests.domain.makers import clock, tables
from tests.study.makers import bench_tables, events_of, holding, on_disk, write


def closed_by_rule(study: Study) -> str:
    """Run the study to its end; why it ended."""
    machine = holding(4600)
    for _ in range(60):
        asked = study.next()
        if asked is None:
            return study.history.verdict
        study.record(machine(asked.settings))
    raise AssertionError("it never ended")


def test_the_persons_reason_is_kept_and_given() -> None:
    """Closed by hand: `next` gives None, `closing` the reason; it stands in the ledger."""
    study = Study.create(bench_tables())
    study.close("the shop called")
    assert study.next() is None
    assert study.closing() == study.history.closed == "the shop called"
    assert events_of(study)[-1].body == {"by": "person", "reason": "the shop called"}


def test_asking_a_closed_study_writes_nothing() -> None:
    """However often."""
    study = Study.create(bench_tables())
    study.close()
    head = study.head
    assert [study.next() for _ in range(3)] == [None] * 3
    assert study.head == head


def test_closed_with_a_pending_proposal_it_asks_for_nothing() -> None:
    """None once the study is closed; the proposal stays pending, to be answered or not."""
    study = Study.create(bench_tables())
    asked = study.next()
    study.close()
    assert study.pending == asked
    assert study.next() is None


def test_runs_are_still_recorded_and_amended() -> None:
    """The pending one too: it may have been running when the person closed."""
    study = Study.create(bench_tables())
    asked = study.next()
    study.close()
    assert study.record("pass").number == asked.number
    study.record("crash", settings={"clock": 5000})
    study.amend(2, outcome="void")
    assert (study.next(), study.pending, len(study.history.runs)) == (None, None, 2)


def test_reopened_it_goes_on_where_it_was() -> None:
    """As if it had not been closed, the runs recorded meanwhile included."""
    study, never_closed = Study.create(bench_tables()), Study.create(bench_tables())
    study.close()
    for each in (study, never_closed):
        each.record("pass", settings={"clock": 4500})
    study.reopen()
    assert study.history.closed == ""
    assert study.next().settings == never_closed.next().settings


@pytest.mark.parametrize("reason", ["", " "])
def test_an_empty_reason_is_refused(reason: str) -> None:
    """It is never written and then taken for none."""
    study = Study.create(bench_tables())
    with pytest.raises(RecordError, match="expected the reason"):
        study.close(reason)
    assert study.next() is not None


@pytest.mark.parametrize("strategy", STRATEGIES)
def test_a_rule_closes_with_a_reason_written_once(strategy: str) -> None:
    """The reason has figures, is in the ledger once, and is what `closing` says."""
    study = Study.create(bench_tables(strategy=strategy))
    reason = closed_by_rule(study)
    study.next()
    assert any(character.isdigit() for character in reason)
    assert [e.kind for e in events_of(study)].count(Kind.CLOSED) == 1
    assert study.closing() in (None, reason)


def test_reopened_against_a_rule_it_asks_on() -> None:
    """The person overrules the closing rules until minutes or values run out."""
    study = Study.create(bench_tables())
    closed_by_rule(study)
    study.reopen()
    for _ in range(3):
        assert study.next() is not None
        study.record("pass")
    study.changed("new firmware")
    assert not study.history.reopened


def test_spent_minutes_close_it() -> None:
    """Figures: minutes spent of those there are; more minutes open it again."""
    study = Study.create(bench_tables(minutes=20))
    study.record("pass", settings={"clock": 4300}, minutes="19.5 min")
    assert study.next() is not None
    study.record("pass", minutes=1)
    assert study.next() is None
    assert study.closing() == "minutes spent: 20.5 of 20"
    study.reopen()
    assert study.next() is None


def test_void_minutes_are_not_spent() -> None:
    """A struck run gives its minutes back."""
    study = Study.create(bench_tables(minutes=20))
    study.record("pass", settings={"clock": 4300}, minutes=25)
    assert study.next() is None
    study.amend(1, outcome="void")
    assert study.next() is not None


def test_nothing_permitted_closes_it_with_what_forbids() -> None:
    """The objection to the easiest value is the reason; lifting it opens the study."""
    study = Study.create(tables(clock(hard_stop=3900)))
    assert study.next() is None
    assert "nothing may be proposed for clock" in study.closing()
    assert "above its ceiling of 3900 MHz" in study.closing()


def test_nothing_permitted_nothing_recommended() -> None:
    """What is known is still shown: nothing holds, the easiest value is not recommended."""
    recommended = Study.create(tables(clock(hard_stop=3900))).recommendation()
    assert recommended.holds is False


def test_more_minutes_in_the_file_reopen_a_spent_study(tmp_path: Path) -> None:
    """The rule looks at the definition as it stands."""
    study = on_disk(tmp_path / "s", bench_tables(minutes=10))
    study.record("pass", settings={"clock": 4300}, minutes=12)
    assert study.next() is None
    write(tmp_path / "s", bench_tables(minutes=60))
    assert study.next() is not None
