"""Every command runs in an empty folder, on a bench of a known name, 80 columns wide."""

from pathlib import Path

import pytest


@pytest.fixture(autouse=True)
def _bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("PLANNER_BENCH", "left")
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.delenv("PLANNER_STUDIES", raising=False)
    monkeypatch.setenv("PLANNER_STATE", str(tmp_path / "state"))
