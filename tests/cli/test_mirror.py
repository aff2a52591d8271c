"""A second copy of the ledger, as a person sets it up, loses it, and mends from it."""

import re
from pathlib import Path

import pytest

from tests.cli.typed import ledger, made, planner, told


@pytest.fixture
def stick(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A study whose store.toml names a folder on what would be another disk."""
    monkeypatch.setenv("PLANNER_STATE", str(tmp_path / "state"))
    folder = made()
    (tmp_path / "stick").mkdir()
    (folder / "store.toml").write_text(f"mirror = '{tmp_path / 'stick'}'\n")
    return tmp_path / "stick"


def agreed() -> None:
    """Agree as a script would."""
    told("agree", "--code", re.search(r"--code (\w+)", planner("agree").stderr)[1])


def test_nothing_is_written_there_before_it_was_agreed_to(stick: Path) -> None:
    """The run is recorded all the same, and the person told."""
    recorded = told("record", "pass", "--as-is")
    assert "is not written to until you agree" in recorded.stderr
    assert list(stick.iterdir()) == []
    assert str(stick) in planner("agree").stdout


def test_every_entry_goes_there_too(stick: Path) -> None:
    """Byte for byte, whatever command wrote it."""
    agreed()
    told("record", "pass", "--as-is")
    told("next")
    told("record", "crash")
    assert (stick / "box.jsonl").read_bytes() == ledger(Path("studies/box"))


def test_another_place_is_agreed_to_anew(stick: Path, tmp_path: Path) -> None:
    """As a stranger's edit would need it."""
    agreed()
    (tmp_path / "other").mkdir()
    Path("studies/box/store.toml").write_text(f"mirror = '{tmp_path / 'other'}'\n")
    told("record", "pass", "--as-is")
    assert list((tmp_path / "other").iterdir()) == []


def test_a_stick_that_is_out_is_told_each_time(stick: Path) -> None:
    """The entry stands."""
    agreed()
    stick.rename(stick.with_name("away"))
    recorded = told("record", "pass", "--as-is")
    assert "Run 1 recorded" in recorded.stdout
    assert "Note: the entry is on disk, but not in the mirror" in recorded.stderr


def test_a_spoilt_ledger_is_mended_from_it(stick: Path) -> None:
    """check names the line, --repair takes it back and keeps a copy."""
    agreed()
    told("record", "pass", "--as-is")
    file = Path("studies/box/ledger.jsonl")
    whole = file.read_bytes()
    file.write_bytes(whole.replace(b'"outcome":"pass"', b'"outcome":"pasz"'))
    refused = planner("check")
    assert (refused.exit_code, "line 2" in refused.stderr) == (6, True)
    mended = told("check", "--repair")
    assert "taken back from" in " ".join(mended.stdout.split())
    assert file.read_bytes() == whole
    assert file.with_name("ledger.jsonl.damaged-1").exists()


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("mirror = 5", "mirror = 5: expected a text"),
        ("mirrors = 'x'", "unknown key 'mirrors'"),
        ("mirror = ", "not readable as TOML"),
        ("\xff", "not readable as TOML"),
    ],
)
def test_a_broken_store_file_is_named(stick: Path, text: str, words: str) -> None:
    """File, key, value, what was expected."""
    Path("studies/box/store.toml").write_bytes(text.encode("latin-1"))
    refused = planner("show")
    assert (refused.exit_code, "store.toml" in refused.stderr) == (2, True)
    assert words in refused.stderr
