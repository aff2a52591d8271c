"""A ledger file that others write too, or that changes under an open ledger."""

import shutil

import pytest

from planner.errors import LedgerConflict, LedgerDamaged
from planner.store import FileLedger
from tests.store.makers import chained, event, events, filled


@pytest.fixture
def path(tmp_path):
    """Where the ledger stands."""
    return tmp_path / "ledger.jsonl"


def test_reading_creates_nothing(path):
    """A ledger that is not there yet is empty, and stays away."""
    ledger = FileLedger(path)
    assert list(ledger.read()) == []
    assert not path.exists()
    ledger.append(event(1))
    assert list(ledger.read()) == events(1)


def test_what_another_writer_added_is_taken_in(path):
    """A writer that was not first learns it, has the new entries, and goes on."""
    one, other = FileLedger(path), FileLedger(path)
    one.append(event(1))
    with pytest.raises(LedgerConflict, match="entry 2 is next"):
        other.append(event(1, "mine"))
    assert other.head == one.head
    other.append(event(2))
    assert list(one.read(1)) == [event(2)]


def shortened(path):
    path.write_bytes(path.read_bytes()[:-1])


def replaced(path):
    shutil.copy(path, path.with_name("copy"))
    path.with_name("copy").replace(path)


def rewritten(path):
    with path.open("r+b") as file:
        file.write(b"".join(chained([event(1), event(2), event(3, score=9.5)])))


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        (shortened, "lost its last 1 bytes"),
        (replaced, "was replaced by another file"),
        (rewritten, "was changed where it had been read"),
        (lambda path: path.unlink(), "is gone"),
    ],
)
def test_a_file_that_changes_under_an_open_ledger_is_damage(path, change, reason):
    """What was read must still stand there; otherwise nothing is read or written any more."""
    ledger = filled(path, 3)
    change(path)
    before = path.read_bytes() if path.exists() else None
    for attempt in (ledger.read, lambda: ledger.append(event(4))):
        with pytest.raises(LedgerDamaged, match=reason):
            attempt()
    assert (path.read_bytes() if path.exists() else None) == before
