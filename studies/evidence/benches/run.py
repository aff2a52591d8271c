"""Two benches at one study in PostgreSQL: how many runs a second they record together.

Run from the project's root: `python studies/evidence/benches/run.py`. It starts a PostgreSQL of
its own on loopback, in a temporary folder, with its durability as it comes (fsync on).
"""

import argparse
import json
import os
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[3]
sys.path.insert(0, str(ROOT))

from planner import Study  # noqa: E402
from tests import postgres  # noqa: E402
from tests.study.makers import bench_tables  # noqa: E402


def own(study: Study, count: int) -> int:
    """Records runs of its own, at one setting after the other."""
    for number in range(count):
        study.record("pass", settings={"clock": 4000 + 50 * (number % 4)})
    return count


def asked(study: Study, count: int) -> int:
    """Asks for each run and records it; the rig holds up to 4600 MHz."""
    for number in range(count):
        proposal = study.next()
        if proposal is None:
            return number
        held = float(proposal.settings["clock"]) <= 4600
        study.record("pass" if held else "crash", number=proposal.number)
    return count


JOBS = {"own": own, "asked": asked}


def bench(job: str, url: str, count: int) -> None:
    """One bench, in a process of its own: ready, go, and what it did."""
    study = Study.open(url)
    study.history  # noqa: B018  # connected, as a bench in mid-evening is
    print("ready", flush=True)
    sys.stdin.readline()
    begun = time.time()
    done = JOBS[job](study, count)
    print(json.dumps({"done": done, "from": begun, "to": time.time()}), flush=True)


def together(job: str, count: int, benches: int) -> str:
    """One line of the table."""
    url = postgres.server_url()
    Study.create(bench_tables(confidence=0.95), url)
    told = _played(job, url, count, benches)
    seconds = max(each["to"] for each in told) - min(each["from"] for each in told)
    history = Study.open(url).history
    done = sum(each["done"] for each in told)
    numbers = [run.number for run in history.runs]
    assert len(numbers) == len(set(numbers)) == done, "a run was lost or doubled"
    return f"| {job} | {benches} | {done} | {seconds:.2f} | {done / seconds:.0f} |"


def _played(job: str, url: str, count: int, benches: int) -> list[dict[str, Any]]:
    processes = [
        subprocess.Popen(
            [sys.executable, __file__, "--bench", job, url, str(count)],
            env=os.environ | {"PLANNER_BENCH": f"bench {number}", "PYTHONPATH": str(ROOT)},
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        for number in range(benches)
    ]
    for process in processes:
        assert process.stdout is not None
        assert process.stdout.readline() == "ready\n"
    for process in processes:
        assert process.stdin is not None
        process.stdin.write("go\n")
        process.stdin.flush()
    return [json.loads(process.communicate()[0]) for process in processes]


def main() -> None:
    """Print the table."""
    arguments = argparse.ArgumentParser()
    arguments.add_argument("--runs", type=int, default=500, help="of each bench")
    arguments.add_argument("--bench", nargs=3, help=argparse.SUPPRESS)
    given = arguments.parse_args()
    if given.bench:
        bench(given.bench[0], given.bench[1], int(given.bench[2]))
        return
    postgres.DURABLE = True
    print("| what | benches | runs | seconds | runs a second |\n|---|---|---|---|---|")
    for job, count in (("own", given.runs), ("asked", 20)):
        for benches in (1, 2):
            print(together(job, count, benches), flush=True)


if __name__ == "__main__":
    main()
