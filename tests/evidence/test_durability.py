"""The durability evidence in small: its full numbers stand in studies/evidence/durability."""

import importlib
import sys
from pathlib import Path

import pytest

FOLDER = Path(__file__).resolve().parents[2] / "studies" / "evidence" / "durability"


@pytest.mark.skipif(not hasattr(sys, "getdlopenflags"), reason="needs fork")
def test_a_killed_evening_loses_and_doubles_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """kill -9 at random moments of asking and recording, with a mirror and without."""
    monkeypatch.syspath_prepend(str(FOLDER))
    kills = importlib.import_module("kills")
    monkeypatch.setattr(kills, "KILLS_A_STUDY", 10)
    tally = kills.kill_often(tmp_path, kills=20, seed=1)
    assert tally.kills == 20
    assert (tally.lost, tally.doubled, tally.refused, tally.mirrors_differ) == (0, 0, 0, 0)
    assert tally.confirmed > 0
