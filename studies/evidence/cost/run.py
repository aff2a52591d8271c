"""What planning costs: one cold `planner next` of a peak study, against runs and against knobs."""

from __future__ import annotations

import argparse
import compileall
import shutil
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

import matplotlib.pyplot as plt
import numpy as np
from going_on import ASKED, cold, show

import planner

RUNS = (30, 60, 120, 250, 500, 1000, 2000)
KNOBS = (4, 6, 9, 12, 16, 20)
"""Against runs with nine knobs, against knobs with 60 runs."""


def measured(folder: Path, knobs: int, runs: int, times: int) -> tuple[float, float, float]:
    """Medians of wall and processor seconds, and the largest peak in MB."""
    study = folder / f"{knobs}-{runs}"
    if not study.exists():
        script = Path(__file__).with_name("made.py")
        subprocess.run([sys.executable, script, study, str(knobs), str(runs)], check=True)
    measures = [_anew(study) for _ in range(times + 1)][1:]
    walls, spent, peaks = zip(*measures, strict=True)
    return statistics.median(walls), statistics.median(spent), max(peaks)


def _anew(study: Path) -> tuple[float, float, float]:
    """What one `next` costs that finds nothing kept."""
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / "study"
        shutil.copytree(study, copy)
        return cold(copy, Path(folder) / "state")


def main() -> None:
    """Prints both tables and draws both curves."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--times", type=int, default=5, help="cold runs of each")
    parser.add_argument("--picture", default="cost.png")
    options = parser.parse_args()
    compileall.compile_dir(next(iter(planner.__path__)), quiet=1)
    show()
    print()
    wanted = dict(ASKED)
    places = [(9, runs) for runs in RUNS] + [(knobs, 60) for knobs in KNOBS] + list(wanted)
    found = {}
    print(
        "| knobs | runs | wall s | processor s | peak MB | asked for |\n|---|---|---|---|---|---|"
    )
    with tempfile.TemporaryDirectory() as folder:
        for knobs, runs in dict.fromkeys(places):
            wall, spent, peak = measured(Path(folder), knobs, runs, options.times)
            found[knobs, runs] = spent
            limit = f"{wanted[knobs, runs]} s, 300 MB" if (knobs, runs) in wanted else ""
            row = f"{knobs} | {runs} | {wall:.2f} | {spent:.2f} | {peak:.0f} | {limit}"
            print(f"| {row} |", flush=True)
    _draw(found, options.picture)


def _draw(found: dict[tuple[int, int], float], picture: str) -> None:
    figure, axes = plt.subplots(1, 2, figsize=(9, 3.6), sharey=True, layout="constrained")
    lines = ((RUNS, [found[9, n] for n in RUNS], "runs on record, 9 knobs"),)
    lines += ((KNOBS, [found[k, 60] for k in KNOBS], "knobs, 60 runs on record"),)
    for axis, (at, seconds, label), power in zip(axes, lines, (1, 2), strict=True):
        axis.plot(at, seconds, marker="o", color="black")
        scale = seconds[-1] * (np.array(at) / at[-1]) ** power
        name = {1: "linear", 2: "quadratic"}[power]
        axis.plot(at, scale, linestyle="--", color="grey", label=name)
        axis.set(xlabel=label, xscale="log", yscale="log")
        axis.set_xticks(at, [str(n) for n in at], minor=False)
        axis.minorticks_off()
        axis.legend(frameon=False)
    axes[0].set_ylabel("processor seconds of one cold next")
    figure.savefig(picture, dpi=120)


if __name__ == "__main__":
    main()
