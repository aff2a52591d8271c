"""A study's folder from a stranger: links, pipes, devices, sizes, names, nesting."""

import os
from pathlib import Path

import pytest

from planner import Study
from planner.domain.parse import parse_text
from planner.errors import DefinitionError, InputError, LedgerDamaged, PlannerError, StudyMissing
from planner.store import definition_text, open_place
from tests.store.makers import sealed
from tests.study.makers import on_disk

FILES = (
    "study.toml",
    "ledger.jsonl",
    "ledger.jsonl.lock",
    "ledger.jsonl.torn",
    "store.toml",
    "drive.json",
    "drive.lock",
)
links = pytest.mark.skipif(os.name == "nt", reason="links and pipes of POSIX")


@links
@pytest.mark.parametrize("name", FILES)
@pytest.mark.parametrize("there", [True, False], ids=["a file", "no file"])
def test_a_link_out_of_the_folder_is_not_followed(tmp_path: Path, name: str, there: bool) -> None:
    """Whoever sent the folder could have a file of ours read, emptied, made or written to."""
    folder, other = tmp_path / "s", tmp_path / "mine"
    on_disk(folder)
    if there:
        other.write_text("precious")
    (folder / name).unlink(missing_ok=True)
    (folder / name).symlink_to(other)
    with pytest.raises(InputError, match=f"{name}: leads out of the study's folder"):
        Study.open(folder)
    assert other.exists() is there
    assert not there or other.read_text() == "precious"


@links
def test_a_link_to_the_folder_itself_is_followed(tmp_path: Path) -> None:
    """People keep their studies where they like, and link files within one."""
    on_disk(tmp_path / "s").next()
    (tmp_path / "link").symlink_to(tmp_path / "s")
    (tmp_path / "s" / "ledger.jsonl.old").symlink_to("ledger.jsonl")
    assert Study.open(tmp_path / "link").pending is not None


@links
@pytest.mark.parametrize("name", FILES)
def test_a_pipe_is_refused_at_once(tmp_path: Path, name: str) -> None:
    """To open one would wait for good."""
    folder = tmp_path / "s"
    on_disk(folder)
    (folder / name).unlink(missing_ok=True)
    os.mkfifo(folder / name)
    with pytest.raises(InputError, match=f"{name}: expected a file"):
        Study.open(folder)
    if name == "study.toml":
        with pytest.raises(StudyMissing, match="expected a file"):
            definition_text(folder)


def test_a_definition_without_end_is_not_read_whole(tmp_path: Path) -> None:
    """One byte more than may be is enough to refuse it."""
    (tmp_path / "study.toml").write_bytes(b"#" * 4_000_001)
    with pytest.raises(DefinitionError, match="too large"):
        definition_text(tmp_path)
    if Path("/dev/zero").exists():
        with pytest.raises(PlannerError):
            definition_text(Path("/dev/zero"))


@pytest.mark.parametrize(
    "text",
    [
        "x = " + "[" * 100_000,
        "x = " + "{a=" * 50_000,
        "[" + ".".join("a" * 50_000) + "]",
        '[[rule]]\nholds = "' + "(" * 50_000 + '"',
        '[study]\nname = "' + "n" * 100_000 + '"',
        '[study]\nname = "\\u001b[2J"',
        '[study]\nname = "\\u202eevil"',
        "[[knob]]\nname = '../../x'",
        "[[knob]]\nname = 'a'\nlow = 0\nhigh = 1e300\nstep = 1e-300\nstock = 0",
        "[[knob]]\nname = 'a'\nchoices = [" + "1," * 100_000 + "]\nstock = 1\nharder = 'choice'",
        "a = " + "9" * 5000,
    ],
    ids=range(11),
)
def test_hostile_definitions_are_refused_in_short_words(text: str) -> None:
    """Nesting, sizes, names: one message that fits a screen and cannot steer a terminal."""
    with pytest.raises(DefinitionError) as refused:
        parse_text(text)
    assert len(str(refused.value)) < 1000
    assert str(refused.value).isprintable()


def test_hostile_nesting_in_a_ledger_is_refused(tmp_path: Path) -> None:
    """A body of a million brackets under a right chain ends no reader."""
    on_disk(tmp_path)
    nested = b"[" * 500_000 + b"]" * 500_000
    start = b'{"format":1,"seq":1,"time":"t","bench":"b","id":"i","kind":"run","body":{"a":'
    (tmp_path / "ledger.jsonl").write_bytes(sealed(start + nested + b'},"prev":"%b"' % (b"0" * 64)))
    with (tmp_path / "ledger.jsonl").open("ab") as file:
        file.write(b"\n")
    with pytest.raises(LedgerDamaged, match="line 1: it is not proper JSON"):
        open_place(tmp_path).ledger.read()
