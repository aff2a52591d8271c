"""The link for a phone: its key outlives a restart, and its QR code says the link."""

import os
import re
from pathlib import Path

import pytest

from planner.errors import InputError
from planner.page import code
from planner.page.key import FILE, forget_key, kept_key

LINK = "http://192.0.2.7:8417/0123456789abcdefghijkl/"


def test_a_link_stays_good(tmp_path: Path) -> None:
    """The same key at the next start, another for another study, a new one when asked for."""
    key = kept_key(tmp_path)
    assert re.fullmatch(r"[\w-]{22}", key, re.ASCII)  # 128 bits in base64
    assert kept_key(tmp_path) == key
    other = tmp_path / "other"
    other.mkdir()
    assert kept_key(other) != key
    forget_key(tmp_path)
    assert kept_key(tmp_path) != key


@pytest.mark.skipif(os.name == "nt", reason="no such permissions there")
def test_only_its_owner_can_read_it(tmp_path: Path) -> None:
    """Whoever has it can record runs."""
    kept_key(tmp_path)
    assert (tmp_path / FILE).stat().st_mode & 0o777 == 0o600


@pytest.mark.parametrize("spoilt", ["", "short", "../../" * 5, "x" * 5000, "\x00" * 22])
def test_a_spoilt_key_is_made_anew(tmp_path: Path, spoilt: str) -> None:
    """A key that is guessed easily, or breaks the link, opens nothing."""
    (tmp_path / FILE).write_text(spoilt)
    assert re.fullmatch(r"[\w-]{22}", kept_key(tmp_path), re.ASCII)


def test_a_key_that_cannot_be_kept(tmp_path: Path) -> None:
    """Said in words; nothing is served with a key that the next start does not know."""
    with pytest.raises(InputError, match="the link's key cannot be kept"):
        kept_key(tmp_path / "nowhere")


def test_the_code_is_drawn_as_the_standard_asks() -> None:
    """ISO/IEC 18004: three finder patterns 7 modules wide, a quiet zone of 4 all around."""
    rows = code.modules(LINK)
    size = len(rows)
    assert (size - 8 - 17) % 4 == 0  # 17 + 4 * version
    assert all(len(row) == size for row in rows)
    blank = [0] * size
    assert rows[:4] == rows[-4:] == [blank] * 4
    assert all(row[:4] == row[-4:] == [0] * 4 for row in rows)
    finder = [1, 1, 1, 1, 1, 1, 1], [1, 0, 0, 0, 0, 0, 1], [1, 0, 1, 1, 1, 0, 1]
    pattern = [finder[at] for at in (0, 1, 2, 2, 2, 1, 0)]
    for top, left in ((4, 4), (4, size - 11), (size - 11, 4)):
        assert [row[left : left + 7] for row in rows[top : top + 7]] == pattern


def test_two_rows_go_to_a_line(monkeypatch: pytest.MonkeyPatch) -> None:
    """Dark on white by explicit colours; read back from the half blocks it is the code."""
    monkeypatch.setattr(code.sys, "stdout", _Terminal("utf-8"))
    lines = code.drawn_code(LINK).split("\n")
    rows = []
    for line in lines:
        bare = re.sub(r"\x1b\[[\d;]*m", "", line)
        rows += [[int(c in "▀█") for c in bare], [int(c in "▄█") for c in bare]]
    assert rows[: len(code.modules(LINK))] == code.modules(LINK)


def test_no_code_where_it_cannot_be_printed(monkeypatch: pytest.MonkeyPatch) -> None:
    """The link as text is there all the same."""
    monkeypatch.setattr(code.sys, "stdout", _Terminal("ascii"))
    assert code.drawn_code(LINK) == ""


class _Terminal:
    def __init__(self, encoding: str) -> None:
        self.encoding = encoding
