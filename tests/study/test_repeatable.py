"""The same history gives the same proposal, in any process and on any number of threads."""

import json
import shutil
from pathlib import Path

import pytest

from planner import Study
from planner.strategies import STRATEGIES
from tests.study.makers import bench_tables, holding, look, on_disk
from tests.study.processes import asked_in

ENVIRONMENTS = [
    {"PYTHONHASHSEED": "0", "OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"},
    {"PYTHONHASHSEED": "4242", "OMP_NUM_THREADS": "4", "OPENBLAS_NUM_THREADS": "4"},
    {"PYTHONHASHSEED": "random", "OMP_NUM_THREADS": "4", "OPENBLAS_NUM_THREADS": "1"},
]


def told(folder: Path, strategy: str, runs: int) -> Path:
    """A study with so many answers, some of them odd, and nothing pending."""
    study, machine = on_disk(folder, bench_tables(strategy=strategy, seed=3)), holding(4600)
    for number in range(runs):
        asked = study.next()
        if asked is None:
            break
        outcome = machine(asked.settings)
        study.record(outcome, score=1000 + number if outcome == "pass" else None)
    study.record("errors", settings={"clock": 4700, "volts": 1.25}, errors=4)
    return folder


@pytest.fixture(scope="module")
def studies(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    """Each strategy after no, one and four answers."""
    root = tmp_path_factory.mktemp("told")
    return [told(root / f"{s}-{n}", s, n) for s in STRATEGIES for n in (0, 1, 4)]


@pytest.fixture(scope="module")
def here(studies: list[Path], tmp_path_factory: pytest.TempPathFactory) -> list[dict]:
    """What this process is given."""
    root = tmp_path_factory.mktemp("here")
    copies = [shutil.copytree(study, root / study.name) for study in studies]
    return [look(Study.open(copy).next()) for copy in copies]


@pytest.mark.slow
@pytest.mark.parametrize("environment", ENVIRONMENTS)
def test_other_processes_propose_the_same(
    environment: dict[str, str], studies: list[Path], here: list[dict], tmp_path: Path
) -> None:
    """To the last digit, reason included: other hash seeds, one thread or four."""
    copies = [shutil.copytree(study, tmp_path / study.name) for study in studies]
    there = asked_in(copies, **environment)
    assert there == json.loads(json.dumps(here))
    assert sum(proposal is not None for proposal in here) >= 2 * len(STRATEGIES)
