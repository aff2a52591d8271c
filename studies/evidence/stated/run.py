"""What is stated of edges and of the minutes to come, beside the truth of simulated rigs."""

from __future__ import annotations

import argparse
import time
from functools import partial
from multiprocessing import get_context

import edges
import outlook
from evening import played

from planner.rigs.evening.draw import Kind

SEED0 = 10_000
"""Seeds of the evidence start here; 0 to 9999 are for development and are never reported."""
TURNED = ("core", "cache", "graphics")
"""Groups that are turned in the evenings which leave the others alone."""


def main() -> None:
    """Prints the tables of edges, of forecasts and of closing."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rigs", type=int, default=40)
    parser.add_argument("--still", type=int, default=10, help="rigs with groups left alone")
    parser.add_argument("--jobs", type=int, default=2, help="processes")
    parser.add_argument("--seed0", type=int, default=SEED0, help="first seed; 0 to develop")
    parser.add_argument("--wider", type=float, default=1.0, help="times as wide ranges")
    options = parser.parse_args()
    kind = Kind(wider=options.wider)
    seeds = range(options.seed0, options.seed0 + options.rigs)
    print(f"rigs: {options.rigs}, seeds {seeds.start} to {seeds.stop - 1}", flush=True)
    started = time.perf_counter()
    with get_context("spawn").Pool(options.jobs) as pool:
        evenings = pool.map(partial(played, kind=kind), seeds, chunksize=1)
        some = partial(played, kind=kind, only=TURNED, outlooks=False)
        still = pool.map(some, seeds[: options.still], chunksize=1)
    print(f"{time.perf_counter() - started:.0f} s")
    print(f"\nedges\n\n{edges.table([t for e in evenings for t in e.edges])}")
    print(f"\nforecasts\n\n{outlook.table(evenings)}\n\n{outlook.closings(evenings)}")
    print(f"\nedges of knobs that no run moved, turning {', '.join(TURNED)} alone\n")
    print(edges.unmoved_table([t for e in still for t in e.edges]))


if __name__ == "__main__":
    main()
