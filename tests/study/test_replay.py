"""History is a pure fold over the ledger: whole, bit by bit, or from another object the same."""

import copy
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner import Study
from planner.domain.event import Event, Kind
from planner.errors import LedgerDamaged
from planner.replay import Replay, fold
from planner.store import FileLedger, definition_text
from tests.study.makers import bench_tables, events_of, holding, on_disk, write
from tests.study.stories import Facts, histories, live, record, stories

pytestmark = pytest.mark.slow


@settings(max_examples=60)
@given(stories)
def test_replayed_from_scratch_it_is_the_same(story: list[tuple[str, Facts]]) -> None:
    """What a study knows as it goes along is what its ledger tells from the start."""
    study = Study.create(bench_tables())
    live(study, story)
    events = events_of(study)
    assert study.history == fold(events)
    assert [event.seq for event in events] == list(range(1, len(events) + 1))


@settings(max_examples=60)
@given(stories, st.data())
def test_in_parts_it_is_the_same(story: list[tuple[str, Facts]], data: st.DataObject) -> None:
    """Folded in pieces of any size; every beginning of a ledger is a ledger."""
    study = Study.create(bench_tables())
    live(study, story)
    events, replay, at = events_of(study), Replay(), 0
    while at < len(events):
        step = data.draw(st.integers(1, 4))
        replay.take(events[at : at + step])
        at = min(at + step, len(events))
        assert replay.history() == fold(events[:at])
        assert replay.last == at


@settings(max_examples=60)
@given(histories)
def test_a_history_once_given_never_changes(told: list[Facts]) -> None:
    """What a strategy was shown stays as it was while the ledger grows."""
    study = Study.create(bench_tables())
    shown = [(study.history, copy.deepcopy(study.history))]
    for each in told:
        record(study, each)
        study.next()
        shown.append((study.history, copy.deepcopy(study.history)))
    study.amend(1, outcome="void")
    study.boot(cold=True)
    assert [now for now, _ in shown] == [then for _, then in shown]


def test_opened_again_it_is_the_same(tmp_path: Path) -> None:
    """From the folder, after an edited definition and some runs; so is the next proposal."""
    study, machine = on_disk(tmp_path / "s"), holding(4500)
    for minutes in (None, 90, 80):
        write(tmp_path / "s", bench_tables(**({} if minutes is None else {"minutes": minutes})))
        study.record(machine(study.next().settings))
    again = Study.open(tmp_path / "s")
    assert (
        again.history == study.history == fold(FileLedger(tmp_path / "s" / "ledger.jsonl").read())
    )
    assert again.head == study.head
    assert again.next() == study.next()


def event(seq: int, kind: Kind, **body: object) -> Event:
    """Entry `seq`."""
    return Event(seq, "2026-01-02T20:30:00Z", "left", f"e{seq}", kind, body)


DEFINED = event(1, Kind.DEFINED, text=definition_text(bench_tables()))
SPOILT = [
    event(2, Kind.RUN),
    event(2, Kind.RUN, run=1, outcome="fail", workload="run", run_minutes=5),
    event(2, Kind.RUN, run="one", outcome="pass", workload="run", run_minutes=5),
    event(2, Kind.RUN, run=1, outcome="pass", workload="run", run_minutes=5, settings=5),
    event(2, Kind.PROPOSED, run="one"),
    event(2, Kind.ACCEPTED, name="volts"),
    event(2, Kind.DEFINED, text="[study]"),
    event(2, Kind.CLOSED, by="person"),
    event(2, Kind.BOOT),
]


@pytest.mark.parametrize("spoilt", SPOILT)
def test_an_entry_that_cannot_be_understood_is_named(spoilt: Event) -> None:
    """By its number and kind; nothing is guessed."""
    with pytest.raises(LedgerDamaged, match=f"entry 2 \\({spoilt.kind}\\)"):
        fold([DEFINED, spoilt])


@pytest.mark.parametrize(
    "spoilt",
    [event(2, Kind.AMENDED), event(2, Kind.AMENDED, run=[1]), event(2, Kind.PROPOSED, run=1)],
)
def test_amendments_and_proposals_are_no_exception(spoilt: Event) -> None:
    """An entry that cannot be understood is named, whenever it is looked at."""
    with pytest.raises(LedgerDamaged, match="entry 2"):
        fold([DEFINED, spoilt])


def test_an_entry_that_was_not_understood_stays_in_the_way() -> None:
    """Asked once more, the replay says so once more; what came after is not half known."""
    replay = Replay()
    with pytest.raises(LedgerDamaged):
        replay.take([DEFINED, SPOILT[0]])
    with pytest.raises(LedgerDamaged):
        replay.take([event(3, Kind.NOTE)])


@pytest.mark.parametrize("events", [[], [event(1, Kind.NOTE)]])
def test_a_ledger_begins_with_a_definition(events: list[Event]) -> None:
    """Without one there is no study."""
    with pytest.raises(LedgerDamaged, match="definition"):
        fold(events)
