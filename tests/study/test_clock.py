"""Order is by sequence, never by clock."""

from collections.abc import Iterator

import pytest

from planner import Study
from planner.domain.event import Kind
from tests.study.makers import bench_tables, holding, known, look

BACKWARDS = [
    "2026-01-02T23:59:59Z",
    "2026-01-02T20:00:00Z",
    "1970-01-01T00:00:00Z",
    "2099-12-31T00:00:00Z",
    "2026-01-02T20:00:00Z",
]


def evening(study: Study) -> list[dict]:
    """A few answers, a run of one's own, an amendment; what was proposed."""
    machine, asked = holding(4500), []
    for _ in range(3):
        proposal = study.next()
        asked.append(look(proposal))
        study.record(machine(proposal.settings))
    study.record("no-start", settings={"clock": 5000})
    study.record("pass", settings={"clock": 5000})
    study.amend(1, outcome="crash")
    study.boot(cold=True)
    return [*asked, look(study.next())]


def test_a_clock_that_goes_backwards_changes_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """Summer time, an empty battery, a wrong year: the same runs, proposals and gate."""
    usual = Study.create(bench_tables())
    expected = evening(usual)
    times: Iterator[str] = iter(BACKWARDS * 20)
    monkeypatch.setattr("planner.study.utc_now", lambda: next(times))
    odd = Study.create(bench_tables())
    assert evening(odd) == expected
    assert known(odd.history) == known(usual.history)
    assert [run.number for run in odd.history.runs] == [1, 2, 3, 4, 5]


def test_times_are_kept_as_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """For people: each entry has its writer's clock, in the order of writing."""
    times = iter(BACKWARDS)
    monkeypatch.setattr("planner.study.utc_now", lambda: next(times))
    study = Study.create(bench_tables())
    study.next()
    study.record("pass")
    events = study._place.ledger.read()
    assert [(e.seq, e.time) for e in events] == list(enumerate(BACKWARDS[:3], 1))
    assert [e.kind for e in events] == [Kind.DEFINED, Kind.PROPOSED, Kind.RUN]
    assert study.history.runs[0].time == BACKWARDS[2]
