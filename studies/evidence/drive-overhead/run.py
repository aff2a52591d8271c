"""How much longer a driven run takes than its workload; `python run.py` measures it."""

from __future__ import annotations

import argparse
import os
import random
import statistics
import subprocess
import sys
import tempfile
import time
from itertools import pairwise
from pathlib import Path
from typing import Any

from planner import Study

WORKLOAD_S = 0.5
ASKED_S = 0.3
SEED = 20261126
BARE: dict[str, Any] = {}
WATCHED: dict[str, Any] = {
    "probe": ["sh", "-c", "echo hotspot=61"],
    "heartbeat": ["sh", "-c", "echo boot=1"],
}
CASES = (
    ("bare", BARE, 0),
    ("with probe and heartbeat", WATCHED, 0),
    ("with both, 1,000 runs on record", WATCHED, 1000),
)
"""What is driven: its name, further commands, runs on record before."""


def made(
    folder: Path, edge: float, commands: dict[str, Any], runs: int, draw: random.Random
) -> None:
    """A study whose workload holds up to the edge."""
    holds = f"sleep {WORKLOAD_S}; test $PLANNER_CLOCK -le {edge:.0f}"
    definition = {
        "study": {"name": "box", "knob": "clock"},
        "knob": [
            {"name": "clock", "unit": "MHz", "low": 4000, "high": 6000, "step": 10}
            | {"stock": 4200, "where": "live", "everyday": 6000}
        ],
        "reading": [{"name": "hotspot", "unit": "C", "stop": 95}],
        "workload": [{"name": "load", "minutes": WORKLOAD_S / 60}],
        "drive": {
            "apply": ["true"],
            "workload": ["sh", "-c", holds],
            "restore": ["true"],
        }
        | commands,
    }
    study = Study.create(definition, folder)
    for _ in range(runs):
        value = 4000 + 10 * draw.randrange(200)
        study.record("pass" if value <= edge else "crash", settings={"clock": value})
    if runs:
        study.reopen()  # so much evidence closes it


def seconds_each(folder: Path, most: int) -> list[float]:
    """Wall seconds from one run's record to the next one's, of one whole `planner drive`."""
    command = [sys.executable, "-m", "planner", "drive", str(folder), "--agree"]
    seen = []
    with subprocess.Popen(
        [*command, "--runs", str(most)],
        env={**os.environ, "PLANNER_STATE": str(folder / "state")},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
    ) as drive:
        assert drive.stderr is not None
        for line in drive.stderr:
            if " recorded: " in line:
                seen.append(time.perf_counter())
    if drive.returncode not in (0, 3):
        raise SystemExit(f"planner drive ended with {drive.returncode}")
    return [after - before for before, after in pairwise(seen)]


def main() -> None:
    """Print the table of the README."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--studies", type=int, default=6, help="of each case, with other edges")
    studies = parser.parse_args().studies
    draw = random.Random(SEED)
    for name, commands, runs in CASES:
        over: list[float] = []
        before = os.times()
        with tempfile.TemporaryDirectory() as place:
            for number in range(studies):
                folder = Path(place) / f"box-{number}"
                made(folder, draw.uniform(4400, 5800), commands, runs, draw)
                over += [s - WORKLOAD_S for s in seconds_each(folder, 15)]
        after = os.times()
        spent = after.children_user + after.children_system
        spent -= before.children_user + before.children_system
        ranked = sorted(over)
        shown = (statistics.median(over), ranked[int(0.9 * len(ranked))], ranked[-1])
        cells = [f"{seconds:.3f}" for seconds in (*shown, spent / (len(over) + studies))]
        print(f"| {name} | {len(over)} | {' | '.join(cells)} | {ASKED_S} s |")


if __name__ == "__main__":
    main()
