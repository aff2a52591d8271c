"""What `planner next` costs in an evening that goes on, with what the one before kept and without.

Each run of the evening is proposed by a new process and recorded; both are timed in turn.
"""

from __future__ import annotations

import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from made import make_study, record

ASKED = (((9, 60), 0.7), ((12, 1000), 2.0))
"""Knobs and runs, and the seconds asked for."""
STEPS = 8
"""So many runs of the evening, half of them before the number asked for."""


def cold(study: Path, state: Path) -> tuple[float, float, float]:
    """Wall seconds, processor seconds and peak MB of one `next`; `state`: what is kept apart."""
    started = time.perf_counter()
    process = subprocess.Popen(
        [sys.executable, "-m", "planner", "next", "--study", str(study)],
        env={**os.environ, "PLANNER_STATE": str(state)},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    _, status, usage = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise SystemExit(f"planner next ended with {process.returncode}")
    seconds = time.perf_counter() - started
    return seconds, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024


def going_on(knobs: int, runs: int) -> tuple[list[float], list[float], list[float], list[float]]:
    """Wall and processor seconds of each `next` without what was kept, then with it."""
    found: list[tuple[float, ...]] = []
    with tempfile.TemporaryDirectory() as folder:
        study, copy, state = (Path(folder) / name for name in ("study", "copy", "state"))
        make_study(study, knobs, runs - STEPS // 2 - 1)
        cold(study, state)
        for _ in range(STEPS):
            record(study)
            shutil.copytree(study, copy)
            without = cold(copy, Path(folder) / "nothing")
            found.append((*without[:2], *cold(study, state)[:2]))
            shutil.rmtree(copy)
            shutil.rmtree(Path(folder) / "nothing")
    walls, spent, kept_walls, kept_spent = (list(each) for each in zip(*found, strict=True))
    return walls, spent, kept_walls, kept_spent


def show() -> None:
    """Prints the table."""
    print("| knobs | runs | s | without: median, most | with: median, most | asked for |")
    print("|---|---|---|---|---|---|")
    for (knobs, runs), limit in ASKED:
        first = runs - STEPS // 2
        walls, spent, kept_walls, kept_spent = going_on(knobs, runs)
        for unit, one, other in (("wall", walls, kept_walls), ("processor", spent, kept_spent)):
            figures = [f"{statistics.median(each):.2f}, {max(each):.2f}" for each in (one, other)]
            row = f"{knobs} | {first} to {first + STEPS - 1} | {unit} | {' | '.join(figures)}"
            print(f"| {row} | {limit} |", flush=True)


if __name__ == "__main__":
    show()
