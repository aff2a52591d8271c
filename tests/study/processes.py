"""Other processes that use a study, for tests: started anew, so it works on every system.

Run as `python -m tests.study.processes JOB FOLDER...`; `ran_together` and `asked_in` do that.
"""

import json
import os
import subprocess
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from planner import Study
from planner.bench import bench_name
from planner.errors import RecordError
from tests.study.makers import look

ROOT = Path(__file__).parents[2]


def _started(job: str, folders: Sequence[Path | str], **environment: str) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-m", __name__, job, *map(str, folders)],
        cwd=ROOT,
        env=os.environ | {"PYTHONPATH": str(ROOT), "PLANNER_BENCH": "bench"} | environment,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )


def ran_together(
    job: str, folder: Path | str, count: int = 2, own_names: bool = False
) -> list[Any]:
    """What several processes tell that were let go at the same time."""
    benches = [{"PLANNER_BENCH": f"bench {i}"} if own_names else {} for i in range(count)]
    processes = [_started(job, [folder], **bench) for bench in benches]
    for process in processes:
        assert process.stdout.readline() == "ready\n"
    for process in processes:
        process.stdin.write("go\n")
        process.stdin.flush()
    return [json.loads(process.communicate(timeout=60)[0]) for process in processes]


def asked_in(folders: Sequence[Path], **environment: str) -> list[Any]:
    """The next proposal of each folder, as a process of that environment looks at it."""
    process = _started("look", folders, PLANNER_BENCH=bench_name(), **environment)
    told, _ = process.communicate("go\n", timeout=60)
    return json.loads(told.removeprefix("ready\n"))


def _look(*folders: str) -> Any:
    return [look(Study.open(folder).next()) for folder in folders]


def _next(folder: str) -> Any:
    proposal = Study.open(folder).next()
    return [proposal.number, look(proposal)]


def _answer(folder: str) -> Any:
    try:
        return Study.open(folder).record("crash").number
    except RecordError as error:
        return str(error)


def _own(folder: str) -> Any:
    study = Study.open(folder)
    return [study.record("pass", settings={"clock": 4300 + i}).number for i in range(10)]


def _evening(folder: str) -> Any:
    """Asks, tells and amends in turns, whatever the other one does."""
    study, told = Study.open(folder), 0
    for _ in range(5):
        study.next()
        try:
            told = study.record("pass").number
        except RecordError:  # the other one has answered
            continue
        study.amend(told, note="seen")
    return told


def _bench(place: str) -> Any:
    """Asks and tells in turns, as one bench of several."""
    study, numbers = Study.open(place), []
    while len(numbers) < 4 and (asked := study.next()) is not None:
        numbers.append(study.record("pass", number=asked.number).number)
    return numbers


JOBS: dict[str, Callable[..., Any]] = {
    "look": _look,
    "next": _next,
    "answer": _answer,
    "own": _own,
    "evening": _evening,
    "bench": _bench,
}

if __name__ == "__main__":
    print("ready", flush=True)
    sys.stdin.readline()
    print(json.dumps(JOBS[sys.argv[1]](*sys.argv[2:])), flush=True)
