"""Order is by sequence, never by clock."""

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from planner import Study
from planner.domain.event import Kind
from tests.study.makers import bench_tables, events_of, holding, known, look

BACKWARDS = [
    datetime(2026, 1, 2, 23, 59, 59, tzinfo=UTC),
    datetime(2026, 1, 2, 20, 0, 0, tzinfo=UTC),
    datetime(1970, 1, 1, tzinfo=UTC),
    datetime(2099, 12, 31, tzinfo=UTC),
    datetime(2026, 1, 2, 20, 0, 0, tzinfo=UTC),
]


class Clock:
    """Stands in for `datetime`: a clock that jumps about."""

    def __init__(self) -> None:
        self.asked = 0

    def now(self, zone: Any) -> datetime:
        """The next time, each later round of them a day earlier."""
        self.asked += 1
        rounds, place = divmod(self.asked - 1, len(BACKWARDS))
        return max(BACKWARDS[place] - timedelta(days=rounds), datetime(1970, 1, 1, tzinfo=UTC))


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
    clock = Clock()
    monkeypatch.setattr("planner.bench.datetime", clock)
    odd = Study.create(bench_tables())
    assert evening(odd) == expected
    assert known(odd.history) == known(usual.history)
    assert [run.number for run in odd.history.runs] == [1, 2, 3, 4, 5]
    assert clock.asked > 10


def test_times_are_kept_as_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """For people: each entry has its writer's clock, in the order of writing."""
    monkeypatch.setattr("planner.bench.datetime", Clock())
    study = Study.create(bench_tables())
    study.next()
    study.record("pass")
    events = events_of(study)
    told = ["2026-01-02T23:59:59Z", "2026-01-02T20:00:00Z", "1970-01-01T00:00:00Z"]
    assert [(e.seq, e.time) for e in events] == list(enumerate(told, 1))
    assert [e.kind for e in events] == [Kind.DEFINED, Kind.PROPOSED, Kind.RUN]
    assert study.history.runs[0].time == told[2]
