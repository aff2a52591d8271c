"""What commands keep of their sampling changes no proposal, whatever becomes of it."""

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from planner import Study
from planner.models.joint import particles
from planner.models.joint.remembered import Remembered
from tests.cli.typed import told
from tests.models.joint.bench import settings, small

STATE = Path("state", "particles")
RUNS = (9, 10, 13, 22, 23, 85, 86)
"""About the ends of stages; past 80 they are told otherwise."""


def tables() -> dict[str, Any]:
    """Dialled in by firmware, so that boots shift a group; with a choice that shifts it too."""
    study = small(seed=3)
    study["knob"][0]["where"] = "firmware"
    choice = {"name": "mode", "group": "memory", "harder": "choice", "stock": "slow"}
    choice["choices"] = ["slow", "fast"]
    study["knob"].append(choice)
    return study


@pytest.fixture(scope="module")
def evening(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    """A study's folder after so many runs each; some settings are run again."""
    place = tmp_path_factory.mktemp("evening")
    study = Study.create(tables(), place / "study")
    rng = np.random.default_rng(1)
    known = [{**each, "mode": str(rng.choice(["slow", "fast"]))} for each in settings(rng, 70)]
    folders = []
    for number in range(1, max(RUNS) + 1):
        setting = known[int(rng.integers(len(known)))]
        hard = (setting["clock"] - 4200) / 800 + (34 - setting["gap"]) / 17
        if number > 1 and hard + rng.normal(0, 0.2) > 1:
            facts: dict[str, Any] = {"outcome": "crash", "failed_after_s": 100.0}
        else:
            facts = {"outcome": "pass", "score": 100 * (1 + 0.1 * hard)}
        study.record(settings=setting, minutes=12, **facts)
        if number in RUNS:
            folders.append(Path(shutil.copytree(place / "study", place / str(number))))
    return folders


@pytest.fixture
def cold(monkeypatch: pytest.MonkeyPatch) -> Callable[[Path], tuple[str, object, int]]:
    """`next` as a new process says and records it, and how often particles were moved for it."""
    moved = [0]
    sweep = particles.sweep

    def counted(*given: Any) -> None:
        moved[0] += 1
        sweep(*given)

    monkeypatch.setattr(particles, "sweep", counted)
    monkeypatch.setattr("planner.journal.utc_now", lambda: "2026-01-01T00:00:00Z")

    def asked(folder: Path) -> tuple[str, object, int]:
        monkeypatch.setattr(particles, "REMEMBERED", Remembered())
        moved[0] = 0
        study = Path("study")
        shutil.rmtree(study, ignore_errors=True)
        shutil.copytree(folder, study)
        said = told("next", study, "--json").stdout
        last = json.loads((study / "ledger.jsonl").read_bytes().splitlines()[-1])
        return said, last["body"], moved[0]

    return asked


def test_no_proposal_depends_on_what_is_kept(evening: list[Path], cold: Any) -> None:
    """The same to the byte with it, without it and where some of it is damaged."""
    spared = []
    for folder in evening:
        *known, few = cold(folder)  # with what was left after earlier runs
        shutil.rmtree(STATE)
        *anew, many = cold(folder)
        assert known == anew
        spared.append(few < many)
    assert spared[0] is False  # nothing was left yet
    assert sum(spared) >= len(evening) - 2  # a repeat may change what all of them were told
    newest = max(STATE.glob("*"), key=lambda path: path.stat().st_mtime_ns)
    newest.write_bytes(newest.read_bytes()[:-9])
    *mended, some = cold(folder)
    assert (mended, few <= some < many) == (anew, True)


def test_a_state_that_cannot_be_written(evening: list[Path], cold: Any) -> None:
    """The command says the same, and nothing of it."""
    said, entry, _ = cold(evening[2])
    shutil.rmtree("state")
    Path("state").write_text("no folder")
    assert cold(evening[2])[:2] == (said, entry)


def test_the_python_interface_keeps_nothing(evening: list[Path]) -> None:
    """Neither in memory's simulations nor beside a study in a folder."""
    shutil.copytree(evening[1], "study")
    assert Study.open("study").next() is not None
    study = Study.create(tables())
    for clock in (4200, 4300, 4400):
        study.record("pass", settings={"clock": clock}, score=100, minutes=12)
    assert study.next() is not None
    assert not STATE.exists()
