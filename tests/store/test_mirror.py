"""A second copy of the ledger: the same bytes, read back, never ahead; and mending from it."""

import errno
import os
from pathlib import Path

import pytest

from planner.errors import LedgerDamaged, LedgerUnwritable
from planner.store import FileLedger, take_back
from planner.store import mirror as mirror_module
from planner.store.mirror import Mirror, read_back
from tests.store.makers import chained, event, events, filled

LINES = chained(events(6))


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Where the ledger stands."""
    return tmp_path / "ledger.jsonl"


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """Where its mirror stands, on what would be another disk."""
    (tmp_path / "stick").mkdir()
    return tmp_path / "stick" / "box.jsonl"


def mirrored(path: Path, copy: Path) -> FileLedger:
    """A ledger with a mirror, as opened anew."""
    return FileLedger(path, mirror=Mirror(copy))


def test_the_copy_is_the_same_bytes(path: Path, copy: Path) -> None:
    """After every entry, whichever object wrote it."""
    for entry in events(6):
        ledger = mirrored(path, copy)
        ledger.append(entry)
        assert copy.read_bytes() == path.read_bytes()
        assert ledger.warning is None


@pytest.mark.parametrize("behind", [0, 1, 4])
def test_a_copy_that_is_behind_catches_up(path: Path, copy: Path, behind: int) -> None:
    """As after the stick was out for some entries."""
    filled(path, 5)
    copy.write_bytes(b"".join(LINES[:behind]))
    mirrored(path, copy).append(event(6))
    assert copy.read_bytes() == path.read_bytes() == b"".join(LINES)


@pytest.mark.parametrize("cut", range(len(LINES[4])))
def test_a_torn_copy_is_mended(path: Path, copy: Path, cut: int) -> None:
    """Cut at any byte of its last line."""
    filled(path, 5)
    copy.write_bytes(b"".join(LINES[:4]) + LINES[4][:cut])
    mirrored(path, copy).append(event(6))
    assert copy.read_bytes() == b"".join(LINES)


def test_a_stick_that_is_out_is_told_and_costs_nothing(path: Path) -> None:
    """The entry stands; a folder of that name is not made on the wrong disk."""
    away = path.parent / "away" / "box.jsonl"
    ledger = mirrored(path, away)
    ledger.append(event(1))
    assert "not in the mirror" in ledger.warning
    assert "there is no folder" in ledger.warning
    assert list(ledger.read()) == events(1)
    away.parent.mkdir()
    ledger.append(event(2))
    assert (ledger.warning, away.read_bytes()) == (None, path.read_bytes())


def test_a_full_stick_is_told(path: Path, copy: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What it took of the line is cut by the next entry."""
    ledger = mirrored(path, copy)
    ledger.append(event(1))

    def full(descriptor: int, data: bytes) -> None:
        os.write(descriptor, data[:9])
        raise OSError(errno.ENOSPC, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(mirror_module, "write_whole", full)
        ledger.append(event(2))
    assert "No space left" in ledger.warning
    ledger.append(event(3))
    assert (ledger.warning, copy.read_bytes()) == (None, path.read_bytes())


def spoiling(where: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Bad memory: what is read back from there has a bit flipped."""

    def read(path: Path, size: int) -> bytes:
        data = bytearray(read_back(path, size))
        if path == where:
            data[len(data) // 2] ^= 4
            with path.open("r+b") as file:
                file.seek(-size, os.SEEK_END)
                file.write(data)
        return bytes(data)

    monkeypatch.setattr(mirror_module, "read_back", read)


def test_a_page_spoilt_on_its_way_is_noticed_and_mended(
    path: Path, copy: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The command fails loudly, the mirror has what was meant, and gives it back."""
    mirrored(path, copy).append(event(1))
    with monkeypatch.context() as patch:
        spoiling(path, patch)
        with pytest.raises(LedgerUnwritable, match="does not read back as it was written"):
            mirrored(path, copy).append(event(2))
    assert copy.read_bytes() == b"".join(LINES[:2])
    with pytest.raises(LedgerDamaged, match="line 2"):
        FileLedger(path).read()
    assert take_back(path, copy)
    assert list(FileLedger(path).read()) == events(2)
    assert path.with_name("ledger.jsonl.damaged-1").exists()
    assert not take_back(path, copy)


def test_a_spoilt_copy_is_told(path: Path, copy: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The ledger is whole, so it is a warning; the next ones name the damaged line."""
    ledger = mirrored(path, copy)
    ledger.append(event(1))
    with monkeypatch.context() as patch:
        spoiling(copy, patch)
        ledger.append(event(2))
    assert "does not read back" in ledger.warning
    ledger = mirrored(path, copy)
    ledger.append(event(3))
    assert "it is damaged (line 2" in ledger.warning
    assert list(ledger.read()) == events(3)


@pytest.mark.parametrize("lost", [1, 3, 5])
def test_a_ledger_that_lost_its_end_is_not_written_over(path: Path, copy: Path, lost: int) -> None:
    """The mirror is ahead: nothing is written until it is taken back."""
    copy.write_bytes(b"".join(LINES[:5]))
    filled(path, 5 - lost)
    with pytest.raises(LedgerDamaged, match=rf"\({lost} more\)"):
        mirrored(path, copy).append(event(6 - lost))
    assert take_back(path, copy)
    mirrored(path, copy).append(event(6))
    assert path.read_bytes() == copy.read_bytes() == b"".join(LINES)


def test_a_ledger_that_is_gone_is_taken_back(path: Path, copy: Path) -> None:
    """The disk was exchanged."""
    copy.write_bytes(b"".join(LINES[:5]))
    assert take_back(path, copy)
    assert list(FileLedger(path).read()) == events(5)


@pytest.mark.parametrize("count", [1, 5])
def test_a_copy_of_another_ledger_is_refused(path: Path, copy: Path, count: int) -> None:
    """Of another study with the folder's name, shorter or longer."""
    copy.write_bytes(b"".join(chained([event(n, f"other{n}") for n in range(1, count + 1)])))
    filled(path, 3)
    with pytest.raises(LedgerDamaged, match="of another ledger"):
        mirrored(path, copy).append(event(4))
    assert not take_back(path, copy)
    assert list(FileLedger(path).read()) == events(3)


@pytest.mark.parametrize("spoilt", range(6))
def test_whatever_line_is_spoilt_comes_back(path: Path, copy: Path, spoilt: int) -> None:
    """Also while the mirror lacks the last ones."""
    lines = [line.replace(b'"left"', b'"lift"', i == spoilt) for i, line in enumerate(LINES)]
    path.write_bytes(b"".join(lines))
    copy.write_bytes(b"".join(LINES[: max(spoilt + 1, 4)]))
    assert take_back(path, copy)
    assert path.read_bytes() == b"".join(LINES)


def test_a_damaged_copy_mends_nothing(path: Path, copy: Path) -> None:
    """Nor does one that is not there."""
    path.write_bytes(b"".join(LINES[:2]))
    copy.write_bytes(LINES[0] + LINES[2])
    assert not take_back(path, copy)
    copy.unlink()
    assert not take_back(path, copy)


def test_a_disk_that_refuses_the_mending_changes_nothing(
    path: Path, copy: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The ledger is as it was, and nothing is left lying about."""
    path.write_bytes(b"".join(LINES[:2]))
    copy.write_bytes(b"".join(LINES))

    def refuse(*_: object) -> None:
        raise OSError(errno.EIO, "Input/output error")

    monkeypatch.setattr(os, "fsync", refuse)
    with pytest.raises(LedgerUnwritable, match="could not be put in place"):
        take_back(path, copy)
    assert path.read_bytes() == b"".join(LINES[:2])
    assert list(path.parent.glob("*.new")) == []
