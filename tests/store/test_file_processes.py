"""Several processes at one ledger file, and processes that are ended in mid-write."""

import random

import pytest

from planner.store import FileLedger
from tests.store.makers import event
from tests.store.processes import started


def both(path, count):
    """Let two processes write `count` entries each at the same time; what they were told."""
    with started("write", path, "a", count) as one, started("write", path, "b", count) as other:
        one.go()
        other.go()
        return one.rest().split(), other.rest().split()


def test_two_writers_lose_and_double_nothing(tmp_path):
    """Each entry of both stands in the ledger once, in the order in which its writer wrote."""
    path = tmp_path / "ledger.jsonl"
    told = both(path, 150)
    tokens = [entry.id for entry in FileLedger(path).read()]
    assert [entry.seq for entry in FileLedger(path).read()] == list(range(1, 301))
    for name, writer in zip("ab", told, strict=True):
        assert writer == [f"{name}{number}" for number in range(150)]
        assert [token for token in tokens if token[0] == name] == writer


@pytest.mark.parametrize("attempt", range(4))
def test_a_new_file_may_be_begun_by_two_at_once(tmp_path, attempt):
    """Neither fails, and each has its entry."""
    path = tmp_path / "ledger.jsonl"
    assert both(path, 1) == (["a0"], ["b0"])
    assert sorted(entry.id for entry in FileLedger(path).read()) == ["a0", "b0"]


def test_a_killed_writer_loses_nothing_that_was_confirmed(tmp_path):
    """Killed 20 times at no particular moment: all confirmed entries stand, nobody waits."""
    path, moments = tmp_path / "ledger.jsonl", random.Random(20260102)
    confirmed = []
    for number in range(20):
        with started("write", path, f"k{number}-") as child:
            child.go()
            confirmed += [child.line() for _ in range(moments.randrange(1, 40))]
            child.process.kill()
            confirmed += child.rest().split()
        ledger = FileLedger(path, timeout=0)  # does not wait: what a killed holder held is free
        tokens = [entry.id for entry in ledger.read()]
        assert [token for token in tokens if token in set(confirmed)] == confirmed
        confirmed.append(f"p{number}")
        ledger.append(event(ledger.head.seq + 1, confirmed[-1]))
    assert len(tokens) == len(set(tokens)) <= len(confirmed) + 20
