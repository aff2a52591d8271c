"""What a ledger file does when the disk or another program is in the way."""

import errno
import os

import pytest

from planner.errors import (
    InputError,
    LedgerBusy,
    LedgerError,
    LedgerUnwritable,
    StudyMissing,
)
from planner.store import FileLedger, MemoryLedger, new_place, open_place, repair
from tests.store.makers import chained, event, events, filled
from tests.store.processes import started


@pytest.fixture
def path(tmp_path):
    """Where the ledger stands."""
    return tmp_path / "ledger.jsonl"


def refuse(code):
    """A stand-in for a system call that fails."""

    def call(*arguments):
        raise OSError(code, os.strerror(code))

    return call


@pytest.mark.parametrize("first", [1, 30, 200])
def test_a_full_disk_costs_nothing_that_stood_there(path, monkeypatch, first):
    """A write cut short by a full disk is taken back; with space again, writing goes on."""
    ledger = filled(path, 2)
    before = path.read_bytes()
    room = [first]

    def write(descriptor, data, real=os.write):
        if not room:
            return refuse(errno.ENOSPC)()
        return real(descriptor, data[: room.pop()])

    with monkeypatch.context() as patch:
        patch.setattr(os, "write", write)
        with pytest.raises(LedgerUnwritable, match=r"ledger\.jsonl could not be written"):
            ledger.append(event(3))
    assert path.read_bytes() == before
    assert list(ledger.read()) == events(2)
    ledger.append(event(3))
    assert list(FileLedger(path).read()) == events(3)


def test_a_full_disk_that_takes_nothing_back_leaves_a_torn_tail(path, monkeypatch):
    """If even cutting fails, the next writer sets the piece aside."""
    ledger = filled(path, 1)
    with path.open("ab") as file:
        file.write(b"piece")
    with monkeypatch.context() as patch:
        patch.setattr(os, "write", refuse(errno.ENOSPC))
        with pytest.raises(LedgerUnwritable, match="torn last line that cannot be moved"):
            ledger.append(event(2))
    ledger.append(event(2))
    assert ledger.torn == b"piece"
    assert list(FileLedger(path).read()) == events(2)


@pytest.mark.skipif(not hasattr(os, "fork"), reason="the system has no limit on file sizes")
def test_a_real_limit_of_the_system_is_met_the_same_way(path):
    """A file-size limit of the kernel ends in our error, with the old entries intact."""
    with started("fill", path) as child:
        child.go()
        told = child.rest().split()
    assert told[-1] == "LedgerUnwritable"
    assert list(FileLedger(path).read()) == events(len(told) - 1)
    assert path.read_bytes() == b"".join(chained(events(len(told) - 1)))


def test_after_a_failed_sync_the_ledger_must_be_reopened(path, monkeypatch):
    """A second sync could claim what the first one lost, so this object never tries."""
    ledger = filled(path, 1)
    with monkeypatch.context() as patch:
        patch.setattr(os, "fsync", refuse(errno.EIO))
        with pytest.raises(LedgerUnwritable, match="reopen it"):
            ledger.append(event(2))
    for attempt in (ledger.read, lambda: ledger.append(event(2)), lambda: ledger.append(event(3))):
        with pytest.raises(LedgerUnwritable, match="open the study again"):
            attempt()
    again = FileLedger(path)
    assert list(again.read())[:1] == events(1)
    again.append(event(again.head.seq + 1))


def test_every_entry_is_synced_and_a_new_file_with_its_folder(path, monkeypatch):
    """One sync an entry; the first one also syncs the folder, where the system can."""
    synced = []
    monkeypatch.setattr(
        os, "fsync", lambda descriptor, real=os.fsync: synced.append(real(descriptor))
    )
    counts = []
    ledger = FileLedger(path)
    for entry in events(3):
        ledger.append(entry)
        counts.append(len(synced))
    folder = int(hasattr(os, "O_DIRECTORY"))
    assert counts == [1 + folder, 2 + folder, 3 + folder]


def test_a_held_ledger_is_busy(path):
    """While another program holds it, writing ends with its name and what to do; reading works."""
    filled(path, 2)
    ledger = FileLedger(path, timeout=0.02)
    with started("hold", path):
        with pytest.raises(LedgerBusy, match=r"ledger\.jsonl was held .* Close the other window"):
            ledger.append(event(3))
        assert list(ledger.read()) == events(2)
    ledger.append(event(3))


def test_a_lock_file_left_behind_means_nothing(path):
    """Only a living holder keeps a ledger, not a file."""
    path.with_name("ledger.jsonl.lock").write_text("left by a crash")
    FileLedger(path, timeout=0).append(event(1))
    FileLedger(path, timeout=0).append(event(2))


def test_a_missing_folder_is_named(tmp_path):
    """No folder is made in passing; the message says which one is missing."""
    ledger = FileLedger(tmp_path / "nowhere" / "ledger.jsonl")
    for attempt in (ledger.read, lambda: ledger.append(event(1)), lambda: repair(ledger._path)):
        with pytest.raises(StudyMissing, match="nowhere"):
            attempt()
    assert not list(tmp_path.iterdir())


def test_a_folder_in_the_place_of_the_ledger_is_named(path):
    """What is no file is neither read nor written."""
    path.mkdir()
    with pytest.raises(LedgerError, match=r"ledger\.jsonl cannot be read"):
        FileLedger(path).read()
    with pytest.raises(LedgerUnwritable, match=r"ledger\.jsonl cannot be opened"):
        FileLedger(path).append(event(1))


def test_a_read_only_folder_is_named(path):
    """Reading works, writing says that the disk refuses."""
    filled(path, 2)
    path.chmod(0o444)
    path.parent.chmod(0o555)
    try:
        if os.access(path.parent, os.W_OK):
            pytest.skip("this user may write everywhere")
        ledger = FileLedger(path)
        assert list(ledger.read()) == events(2)
        with pytest.raises(LedgerUnwritable, match=r"ledger\.jsonl"):
            ledger.append(event(3))
    finally:
        path.parent.chmod(0o755)
        path.chmod(0o644)


def test_a_place_is_memory_or_a_folder(tmp_path):
    """The one word, or a folder as text or object; an address of a database is refused by name."""
    assert isinstance(new_place("memory", "").ledger, MemoryLedger)
    for place in (tmp_path / "one", str(tmp_path / "two")):
        new_place(place, "")
        assert open_place(place).ledger.read() == ()
    with pytest.raises(InputError, match="expected the study's name after #"):
        new_place("postgresql://bench@host/studies", "")
