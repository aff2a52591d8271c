"""What a drive writes down as it goes, and who may read and hold it."""

import json
import os
from dataclasses import asdict
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.driving.trail import Begun, Trail, UnderWay
from planner.errors import InputError, LedgerBusy, LedgerUnwritable


def test_it_comes_back_as_it_was(tmp_path: Path) -> None:
    """Every field; keys of a later version are passed over, and nothing is left lying about."""
    told = UnderWay("boot", "t", 2, Begun(7, 1e9, 3.5))
    trail = Trail(tmp_path)
    trail.write(told)
    assert trail.read() == told
    (tmp_path / "drive.json").write_text(json.dumps({**asdict(told), "new": 1}), encoding="ascii")
    assert trail.read() == told
    assert [path.name for path in tmp_path.iterdir()] == ["drive.json"]
    trail.clear()
    assert trail.read() is None


@given(st.binary(max_size=200) | st.text(max_size=100).map(str.encode))
def test_any_bytes_are_read(tmp_path_factory: pytest.TempPathFactory, data: bytes) -> None:
    """Without an error, and never as if nothing had been under way."""
    folder = tmp_path_factory.getbasetemp()
    (folder / "drive.json").write_bytes(data)
    told = Trail(folder).read()
    assert told is not None


@pytest.mark.skipif(os.name == "nt", reason="pipes of POSIX")
def test_a_pipe_in_its_place_is_refused_at_once(tmp_path: Path) -> None:
    """Whoever sent the folder could have a start at boot wait for good."""
    os.mkfifo(tmp_path / "drive.json")
    with pytest.raises(InputError, match=r"drive\.json: expected a file"):
        Trail(tmp_path).read()


@pytest.mark.parametrize(
    "text", ["", "{", "[1]", "[" * 9999, '{"boot_mark": "x", "downs": 0, "begun": {"run": NaN}}']
)
def test_a_spoilt_one_says_so(tmp_path: Path, text: str) -> None:
    """A power cut may leave it."""
    (tmp_path / "drive.json").write_text(text, encoding="ascii")
    assert Trail(tmp_path).read() == UnderWay("", whole=False)


def test_two_drives_keep_out_of_each_others_way(tmp_path: Path) -> None:
    """The lock goes with its holder."""
    busy = pytest.raises(LedgerBusy, match="another planner drives")
    with Trail(tmp_path).held(), busy, Trail(tmp_path).held():
        pass
    with Trail(tmp_path).held():
        pass


def test_a_disk_that_refuses_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What stood there stands."""
    trail = Trail(tmp_path)
    trail.write(UnderWay("one"))

    def full(*_: Any) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr("os.fsync", full)
        with pytest.raises(LedgerUnwritable, match=r"No space left on device.*nothing is run"):
            trail.write(UnderWay("two"))
    assert trail.read() == UnderWay("one")
    assert [path.name for path in tmp_path.iterdir()] == ["drive.json"]
    with pytest.raises(LedgerUnwritable, match="nothing is run"), Trail(tmp_path / "no").held():
        pass
