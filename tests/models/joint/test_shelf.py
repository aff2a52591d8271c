"""What is kept on disk comes back to the byte, or not at all; nothing there is ever an error."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from planner.models.joint import shelf
from planner.models.joint.shelf import KEPT, Shelf

DATA = bytes(range(256)) * 4
WRITER = """
import sys
from pathlib import Path
from planner.models.joint.shelf import Shelf
for _ in range(150):
    Shelf(lambda: Path(sys.argv[1])).write("end", sys.argv[2].encode() * 40_000)
"""


def files(folder: Path) -> list[Path]:
    """All that stands there."""
    return sorted(folder.iterdir())


def test_bytes_come_back(tmp_path: Path) -> None:
    """Under their own name only, in a folder that is made for them and is nobody else's."""
    folder = tmp_path / "state" / "particles"
    kept = Shelf(lambda: folder)
    assert kept.read("one") is None
    kept.write("one", DATA)
    kept.write("two", b"")
    assert (kept.read("one"), kept.read("two"), kept.read("three")) == (DATA, b"", None)
    if os.name == "posix":
        assert {path.stat().st_mode & 0o077 for path in [folder, *files(folder)]} == {0}


def test_without_a_folder_nothing_is_kept() -> None:
    """As in the Python interface."""
    kept = Shelf()
    kept.write("one", DATA)
    assert kept.read("one") is None


@pytest.mark.parametrize("at", [0, 5, 31, 32, 33, 500, -1])
def test_a_changed_byte_is_seen(tmp_path: Path, at: int) -> None:
    """Wherever it stands; and what is written anew holds again."""
    kept = Shelf(lambda: tmp_path)
    kept.write("one", DATA)
    (path,) = files(tmp_path)
    damaged = bytearray(path.read_bytes())
    damaged[at] ^= 1
    path.write_bytes(damaged)
    assert kept.read("one") is None
    kept.write("one", DATA)
    assert kept.read("one") == DATA


def test_a_torn_or_foreign_file_is_seen(tmp_path: Path) -> None:
    """Cut anywhere, longer, another name's, zeros as after a power cut, or a folder."""
    kept = Shelf(lambda: tmp_path)
    kept.write("one", DATA)
    (path,) = files(tmp_path)
    whole = path.read_bytes()
    kept.write("two", DATA)
    other = next(each for each in files(tmp_path) if each != path).read_bytes()
    cuts = [whole[:end] for end in range(0, len(whole), 97)]
    for wrong in (*cuts, whole + b"0", other, bytes(len(whole)), b"PK\x03\x04"):
        path.write_bytes(wrong)
        assert kept.read("one") is None
    path.unlink()
    path.mkdir()
    assert kept.read("one") is None
    kept.write("one", DATA)
    assert kept.read("one") is None


def test_a_folder_that_cannot_be_used(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file in its place, one in its parents', no right to write, no home at all."""
    file = tmp_path / "file"
    file.write_text("mine")

    def homeless() -> Path:
        raise RuntimeError("Could not determine home directory.")

    for kept in (Shelf(lambda: file), Shelf(lambda: file / "particles"), Shelf(homeless)):
        kept.write("one", DATA)
        assert kept.read("one") is None
    assert file.read_text() == "mine"

    kept = Shelf(lambda: tmp_path / "particles")
    kept.write("one", DATA)

    def refused(*_: object, **__: object) -> None:
        raise PermissionError

    # Not by the folder's mode, which does not bind who runs tests as root.
    for call in ("open", "utime", "replace"):
        monkeypatch.setattr(os, call, refused)
    kept.write("two", DATA)
    assert (kept.read("one"), kept.read("two")) == (DATA, None)


def test_few_files_are_kept(tmp_path: Path) -> None:
    """The ones that were not asked for longest go, also what a cut-off writer left behind."""
    kept = Shelf(lambda: tmp_path)
    (tmp_path / "cut-off.new").write_bytes(b"half")
    (tmp_path / "notes.txt").write_text("a person's own")
    for number in range(KEPT + 3):
        kept.write(str(number), DATA)
        for age, name in enumerate(("cut-off.new", *map(str, range(number + 1)))):
            at = tmp_path / name if not age else shelf._path(tmp_path, shelf._sealed(name))
            if at.exists() and name != "1":  # 1 is asked for again and again
                os.utime(at, (1_000_000 + age, 1_000_000 + age))
        assert kept.read("1") == DATA or number < 1
    found = {str(n) for n in range(KEPT + 3) if kept.read(str(n)) is not None}
    assert found == {"1", *(str(n) for n in range(4, KEPT + 3))}
    assert len(files(tmp_path)) == KEPT + 1


def test_another_model_finds_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Its text is part of every name."""
    kept = Shelf(lambda: tmp_path)
    kept.write("one", DATA)
    monkeypatch.setattr(shelf, "_here", lambda: b"another")
    assert kept.read("one") is None


def test_the_text_of_the_model_counts(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One changed line, or a module more, makes another model; without text there is none."""
    joint, found = tmp_path / "models" / "joint", set()
    joint.mkdir(parents=True)
    monkeypatch.setattr(shelf, "__file__", str(joint / "shelf.py"))
    with pytest.raises(OSError, match="no source"):
        shelf._here.__wrapped__()
    for name, text in (("prior.py", "X = 1"), ("prior.py", "X = 2"), ("moves.py", "")):
        (joint / name).write_text(text)
        found.add(shelf._here.__wrapped__())
    assert len(found) == 3


def test_two_writers_at_once(tmp_path: Path) -> None:
    """A reader sees what one of them wrote, whole, or nothing."""
    root = Path(shelf.__file__).parents[3]
    ran = [
        subprocess.Popen([sys.executable, "-c", WRITER, str(tmp_path), letter], cwd=root)
        for letter in "ab"
    ]
    kept, seen = Shelf(lambda: tmp_path), set()
    while any(process.poll() is None for process in ran):
        seen.add(kept.read("end"))
    assert [process.returncode for process in ran] == [0, 0]
    assert seen <= {None, b"a" * 40_000, b"b" * 40_000}
    assert kept.read("end") is not None
    assert len(files(tmp_path)) == 1
