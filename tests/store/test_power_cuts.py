"""A power cut at every call to the disk, with unsynced blocks dropped, kept or reordered."""

from pathlib import Path

import pytest

from planner.errors import LedgerDamaged
from planner.store import FileLedger
from tests.store.makers import event, events, filled
from tests.store.power_cuts import after_cuts, recorded


@pytest.mark.parametrize("torn", [b"", b'{"format":1,"seq":3,"time":"20' + b"y" * 300])
@pytest.mark.parametrize("block", [512, 64])
def test_every_confirmed_entry_stands_and_nothing_is_made_up(
    tmp_path: Path, block: int, torn: bytes
) -> None:
    """It opens, what was confirmed is there, at most the one that was being written beside it."""
    disk = recorded(tmp_path / "ledger.jsonl", 5, torn)
    meant = list(FileLedger(disk.path).read())
    cut = tmp_path / "cut.jsonl"
    seen = set()
    for data, confirmed in after_cuts(disk, block, tries=12, seed=block):
        if data in seen:
            continue
        seen.add(data)
        cut.write_bytes(data)
        ledger = FileLedger(cut)
        found = list(ledger.read())
        assert found in (meant[:confirmed], meant[: confirmed + 1])
        ledger.append(event(len(found) + 1))
        assert list(FileLedger(cut).read())[: len(found)] == found
        assert len(list(FileLedger(cut).read())) == len(found) + 1
    assert len(seen) > (60 if block == 64 else 20)


def test_zeros_in_the_middle_are_no_torn_tail(tmp_path: Path) -> None:
    """A confirmed line that lost a block is damage, and named."""
    path = tmp_path / "ledger.jsonl"
    filled(path, 4)
    lines = path.read_bytes().split(b"\n")
    lines[1] = lines[1][:40] + b"\0" * 40 + lines[1][80:]
    path.write_bytes(b"\n".join(lines))
    with pytest.raises(LedgerDamaged, match="line 2"):
        FileLedger(path).read()


def test_a_last_line_with_zeros_is_set_aside(tmp_path: Path) -> None:
    """A block of it never came; readers pass it over and say so."""
    path = tmp_path / "ledger.jsonl"
    filled(path, 4)
    lines = path.read_bytes().split(b"\n")
    lines[3] = lines[3][:40] + b"\0" * 40 + lines[3][80:]
    path.write_bytes(b"\n".join(lines))
    ledger = FileLedger(path)
    assert list(ledger.read()) == events(3)
    assert "not whole" in ledger.warning
    ledger.append(event(4))
    assert list(FileLedger(path).read()) == events(4)
    assert b"\0" in path.with_name("ledger.jsonl.torn").read_bytes()
