"""Taking a proposal back that nobody ran."""

import pytest

from planner import Study
from planner.domain.event import Kind
from planner.errors import RecordError
from tests.study.makers import bench_tables, events_of, look


def test_it_is_asked_for_anew_under_another_number() -> None:
    """Nothing was learnt, so it is the same setting; the number is used once."""
    study = Study.create(bench_tables())
    asked = study.next()
    assert asked is not None
    study.withdraw(asked.number, "a lamp stands in the way")
    assert study.pending is None
    assert events_of(study)[-1].kind is Kind.WITHDRAWN
    again = study.next()
    assert again is not None
    assert (again.number, look(again)) == (asked.number + 1, look(asked))


def test_only_what_is_pending_can_be_withdrawn() -> None:
    """Not what was answered, withdrawn, or never asked for; nor without a reason."""
    study = Study.create(bench_tables())
    study.next()
    study.record("pass")
    study.next()
    head = study.head
    for number in (1, 3, 0):
        with pytest.raises(RecordError, match=f"withdraw {number}: is not pending.*: 2"):
            study.withdraw(number, "why not")
    for why in ("", " ", "\x1b[2J", "x" * 201):
        with pytest.raises(RecordError, match="in a few words"):
            study.withdraw(2, why)
    assert study.head == head
