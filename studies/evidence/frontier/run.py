"""The frontier: one shared search against searching each voltage alone."""

from __future__ import annotations

import argparse
import time
from collections.abc import Callable
from functools import partial
from multiprocessing import get_context

from alone import bisected, searched_alone
from scoring import Score
from shared import traced
from table import HEAD, markdown, row

from planner.rigs.frontier import FrontierRig, frontier_rig

SEED0 = 10_000
"""Seeds of the evidence start here; 0 to 9999 are for development and are never reported."""
COMPETITORS: dict[str, Callable[[FrontierRig], Score]] = {
    "bisection, each voltage alone": bisected,
    "planner, each voltage alone": searched_alone,
    "planner, frontier": traced,
}


def play(name: str, seed: int) -> Score:
    """One competitor on one rig; every one meets the same rig and the same start."""
    return COMPETITORS[name](frontier_rig(seed))


def main() -> None:
    """Prints one row a competitor."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rigs", type=int, default=200)
    parser.add_argument("--jobs", type=int, default=2, help="processes")
    parser.add_argument("--seed0", type=int, default=SEED0, help="first seed; 0 to develop")
    options = parser.parse_args()
    seeds = range(options.seed0, options.seed0 + options.rigs)
    print(f"rigs: {options.rigs}, seeds {seeds.start} to {seeds.stop - 1}, nine voltages each\n")
    rows = []
    with get_context("spawn").Pool(options.jobs) as pool:
        for name in COMPETITORS:
            started = time.perf_counter()
            scores = pool.map(partial(play, name), seeds, chunksize=5)
            rows.append(row(name, scores))
            print(f"{name}: {time.perf_counter() - started:.0f} s", flush=True)
    print(f"\n{markdown(HEAD, rows)}")


if __name__ == "__main__":
    main()
