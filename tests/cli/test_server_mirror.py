"""A second copy of a ledger that stands on a server, and what mends the server's own."""

import shlex
from pathlib import Path

import pytest

from planner.errors import LedgerConflict
from planner.store import ServerLedger, parse_address
from planner.store.mirror import Mirror
from tests.cli.typed import planner, told
from tests.postgres import PASSWORD, bare, server_url, sql
from tests.store.makers import event, events


@pytest.fixture
def stick(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder on what would be another disk."""
    monkeypatch.setenv("PLANNER_STATE", str(tmp_path / "state"))
    monkeypatch.setenv("PGPASSWORD", PASSWORD)
    (tmp_path / "stick").mkdir()
    return tmp_path / "stick"


@pytest.fixture
def address(stick: Path) -> str:
    """Of a study there with a mirror here, and two runs on record."""
    url = bare(server_url())
    told("new", "box", "--store", url)
    told("record", "pass", "--as-is")
    assert "holds all entries so far" in told("mirror", stick).stdout
    told("record", "pass", "--as-is")
    return url


def there(address: str) -> bytes:
    """All lines that the database holds, asked for directly."""
    study = parse_address(address).study
    rows = sql(f"SELECT line FROM planner_lines WHERE study = '{study}' ORDER BY number")
    return b"".join(bytes(line) + b"\n" for (line,) in rows)


def test_every_entry_goes_there_too(
    address: str, stick: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Those of other benches with the next of one's own."""
    assert (stick / "box.jsonl").read_bytes() == there(address)
    monkeypatch.setenv("PLANNER_BENCH", "other")
    told("join", "other", address)
    told("record", "pass", "--as-is", "-s", "other")
    assert (stick / "box.jsonl").read_bytes() != there(address)
    told("next", "-s", "box")
    assert (stick / "box.jsonl").read_bytes() == there(address)


def test_two_windows_share_a_copy(stick: Path) -> None:
    """What one wrote is in it before the other has read it: no reason to doubt the server."""
    url = server_url()
    one, other = (
        ServerLedger(parse_address(url), mirror=Mirror(stick / "two.jsonl")) for _ in range(2)
    )
    one.append(event(1))
    other.read()
    one.append(event(2))
    with pytest.raises(LedgerConflict):
        other.append(event(2, "late"))
    other.append(event(3))
    assert list(one.read()) == events(3)
    assert (stick / "two.jsonl").read_bytes() == there(bare(url))
    assert (one.warning, other.warning) == (None, None)


def test_a_stick_that_is_out_is_told(address: str, stick: Path) -> None:
    """The entry stands on the server, and is copied once the stick is back."""
    away = stick.rename(stick.with_name("away"))
    recorded = told("record", "pass", "--as-is")
    assert "the entry is on the server, but not in the mirror" in recorded.stderr
    away.rename(stick)
    assert told("boot", "cold").stderr == ""
    assert (stick / "box.jsonl").read_bytes() == there(address)


def lose_the_end(address: str) -> None:
    """A copy of the database from before the last entry was played in."""
    study = parse_address(address).study
    last = f"SELECT max(number) FROM planner_lines WHERE study = '{study}'"
    sql(f"DELETE FROM planner_lines WHERE study = '{study}' AND number = ({last})")


def test_an_end_that_the_server_lost_is_put_back(address: str, stick: Path) -> None:
    """Nothing is written on top of it before."""
    whole = there(address)
    lose_the_end(address)
    refused = planner("record", "crash", "--as-is")
    assert (refused.exit_code, "goes on where the ledger ends (1 more)" in refused.stderr) == (
        6,
        True,
    )
    mended = " ".join(told("check", "--repair").stdout.split())
    assert "1 entry put back from" in mended
    assert there(address) == whole
    told("record", "crash", "--as-is")
    assert (stick / "box.jsonl").read_bytes() == there(address)


def test_an_end_that_was_written_over_is_told(address: str, stick: Path) -> None:
    """A bench without a mirror went on meanwhile: both endings are kept, and nothing is mixed."""
    lose_the_end(address)
    told("mirror", "--off")
    told("boot", "cold")
    both = there(address), (stick / "box.jsonl").read_bytes()
    refused = planner("mirror", stick)
    assert refused.exit_code == 6
    assert "goes on otherwise than the ledger after entry 2" in refused.stderr
    assert (there(address), (stick / "box.jsonl").read_bytes()) == both


def test_a_spoilt_line_is_mended_in_the_folder(address: str) -> None:
    """Without a mirror: what to type is told, and is what mends it."""
    told("mirror", "--off")
    assert "The ledger is whole" in told("check", "--repair").stdout
    study = parse_address(address).study
    sql(f"UPDATE planner_lines SET line = 'x' WHERE study = '{study}' AND number = 2")
    refused = planner("check", "--repair")
    assert (refused.exit_code, "line 2" in refused.stderr) == (6, True)
    typed = refused.stderr.rpartition("move it back: ")[2].split("; ")
    assert len(typed) == 3
    for line in typed:
        done = planner(*shlex.split(line.strip())[1:])
        assert done.exit_code == 0, done.output
    assert "2 runs" not in told("check").stdout
    told("record", "pass", "--as-is")


def test_a_server_that_is_gone_for_good(address: str, stick: Path) -> None:
    """The copy is a ledger: in a folder of its own it is the study, with every run."""
    folder = Path("studies/again")
    folder.mkdir()
    (folder / "ledger.jsonl").write_bytes((stick / "box.jsonl").read_bytes())
    assert "2 runs" in told("show", "again").stdout
