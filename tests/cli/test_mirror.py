"""A second copy of the ledger, as a person sets it up, loses it, and mends from it."""

from pathlib import Path

import pytest

from tests.cli.typed import ledger, made, planner, told


@pytest.fixture
def stick(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder on what would be another disk, beside a study."""
    monkeypatch.setenv("PLANNER_STATE", str(tmp_path / "state"))
    made()
    (tmp_path / "stick").mkdir()
    return tmp_path / "stick"


def named(folder: Path) -> None:
    """What a store.toml from someone else may hold."""
    Path("studies/box/store.toml").write_text(f"mirror = '{folder}'\n")


def test_every_entry_goes_there_too(stick: Path) -> None:
    """Byte for byte, whatever command wrote it, from the first one on."""
    begun = told("mirror", stick)
    assert "holds all entries so far" in begun.stdout
    assert (stick / "box.jsonl").read_bytes() == ledger(Path("studies/box"))
    told("record", "pass", "--as-is")
    told("next")
    told("record", "crash")
    assert (stick / "box.jsonl").read_bytes() == ledger(Path("studies/box"))
    assert str(stick / "box.jsonl") in told("mirror").stdout


def test_nothing_is_written_where_nobody_agreed_to(stick: Path, tmp_path: Path) -> None:
    """The run is recorded all the same, and the person told; an edit is asked about anew."""
    named(stick)
    recorded = told("record", "pass", "--as-is")
    assert "nobody has agreed to" in recorded.stderr
    assert list(stick.iterdir()) == []
    told("mirror", stick)
    (tmp_path / "other").mkdir()
    named(tmp_path / "other")
    assert "nobody has agreed to" in told("record", "pass", "--as-is").stderr
    assert list((tmp_path / "other").iterdir()) == []


def test_it_is_turned_off_again(stick: Path) -> None:
    """The copy stays as it was; what else store.toml holds does, too."""
    told("mirror", stick)
    file = Path("studies/box/store.toml")
    file.write_text("# mine\n" + file.read_text())
    before = (stick / "box.jsonl").read_bytes()
    told("mirror", "--off")
    told("record", "pass", "--as-is")
    assert (stick / "box.jsonl").read_bytes() == before
    assert (file.read_text(), told("mirror").stdout) == ("# mine\n", "No mirror.\n")


@pytest.mark.parametrize("place", ["nowhere", "studies/box", "studies/box/study.toml"])
def test_a_place_that_cannot_be_is_refused(stick: Path, place: str) -> None:
    """Nothing is set."""
    refused = planner("mirror", place)
    assert (refused.exit_code, "expected" in refused.stderr) == (2, True)
    assert not Path("studies/box/store.toml").exists()


def test_a_copy_of_another_study_is_not_written_over(stick: Path) -> None:
    """Of one in another folder of the same name."""
    told("new", "other/box")
    (stick / "box.jsonl").write_bytes(ledger(Path("other/box")))
    refused = planner("mirror", stick, "-s", "box")
    assert (refused.exit_code, "of another ledger" in refused.stderr) == (6, True)


def test_a_stick_that_is_out_is_told_each_time(stick: Path) -> None:
    """The entry stands."""
    told("mirror", stick)
    stick.rename(stick.with_name("away"))
    recorded = told("record", "pass", "--as-is")
    assert "Run 1 recorded" in recorded.stdout
    assert "the entry is on disk, but not in the mirror" in recorded.stderr


def test_a_spoilt_ledger_is_mended_from_it(stick: Path) -> None:
    """check names the line, --repair takes it back and keeps a copy."""
    told("mirror", stick)
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
        ("mirror = 'stick'", "expected the whole path"),
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
