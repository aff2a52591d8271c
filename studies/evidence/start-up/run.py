"""Start-up: what a person waits for, whole cold processes timed from outside."""

from __future__ import annotations

import argparse
import compileall
import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import planner

COMMANDS = (
    ("planner --help", ["--help"], 60, 0.20),
    ("next, 60 runs", ["next"], 60, 0.35),
    ("next, 10,000 runs", ["next"], 10_000, 0.50),
    ("record, 60 runs", ["record", "pass", "--as-is"], 60, 0.30),
    ("record, 10,000 runs", ["record", "pass", "--as-is"], 10_000, None),
    ("show, 60 runs", ["show"], 60, None),
)
"""What is timed: its name, arguments, runs on record, and the seconds that it may take."""
MEMORY_MB = 120


def timed(arguments: list[str]) -> tuple[float, float, float]:
    """Wall seconds of one process, those of the processor, and its peak memory in MB.

    The last two are 0 where they cannot be told.
    """
    started = time.perf_counter()
    process = subprocess.Popen(
        [sys.executable, "-m", "planner", *arguments],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        env={**os.environ, "NO_COLOR": "1"},
    )
    if not hasattr(os, "wait4"):
        process.wait()
        return time.perf_counter() - started, 0.0, 0.0
    _, status, usage = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise SystemExit(f"planner {' '.join(arguments)} ended with {process.returncode}")
    wall = time.perf_counter() - started
    return wall, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024


def made(folder: Path, runs: int) -> Path:
    """A study folder with so many runs; in another process, so that this one stays small."""
    script = Path(__file__).with_name("made.py")
    subprocess.run([sys.executable, str(script), str(folder), str(runs)], check=True)
    return folder


def main() -> None:
    """Prints one row a command: medians, range, peak memory, what was asked for."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--times", type=int, default=11, help="runs of each command")
    times = parser.parse_args().times
    # As pip leaves an installed package: compiled.
    compileall.compile_dir(next(iter(planner.__path__)), quiet=1)
    print("| command | processor s | wall s | least to most | peak MB | asked for |")
    print("|---|---|---|---|---|---|")
    with tempfile.TemporaryDirectory() as folder:
        studies = {runs: made(Path(folder) / f"runs{runs}", runs) for runs in (60, 10_000)}
        for name, arguments, runs, asked in COMMANDS:
            place = not name.endswith("--help")
            command = [*arguments, "--study", str(studies[runs])] if place else arguments
            timed(command)
            seconds, busy, peaks = zip(*(timed(command) for _ in range(times)), strict=True)
            span = f"{min(seconds):.3f} to {max(seconds):.3f}"
            limit = f"{asked:.2f} s, {MEMORY_MB} MB" if asked else ""
            medians = f"{statistics.median(busy):.3f} | {statistics.median(seconds):.3f}"
            print(f"| {name} | {medians} | {span} | {max(peaks):.0f} | {limit} |", flush=True)


if __name__ == "__main__":
    main()
