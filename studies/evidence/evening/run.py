"""An evening with nine knobs: share of the possible gain, crashes, and what was stated."""

from __future__ import annotations

import argparse
import time
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from multiprocessing import get_context
from pathlib import Path

from bench import Bench, Point
from by_hand import in_steps, veteran
from optimisers import at_random, evolving, tpe, with_sampler
from ours import Blamed, Said, played
from reliability import draw
from table import stated, table

from planner.rigs.evening.draw import Kind, evening_rig
from planner.rigs.evening.possible import best_setting

SEED0 = 10_000
"""Seeds of the evidence start here; 0 to 9999 are for development and are never reported."""
KINDS = {
    "usual": Kind(),
    "ranges 2.5 times as wide": Kind(wider=2.5),
    "even weights, shuffled": Kind(even=True),
    "steps 3 times finer": Kind(finer=3),
}
Player = Callable[[Bench], Said | None]
PLAYERS: dict[str, Player] = {
    "planner": played,
    "planner, suspicion 80 % right": partial(played, suspecting=0.8),
    "by hand, veteran": veteran,
    "by hand, in steps": in_steps,
    "TPE with constraint": with_sampler(tpe),
    "NSGA-II with constraint": with_sampler(evolving),
    "random": at_random,
}


@dataclass(frozen=True)
class Evening:
    """One competitor's evening on one rig."""

    points: list[Point]
    said: Said | None


def play(name: str, kind: str, seed: int) -> Evening:
    """Every competitor meets the same rig and the same start."""
    rig = evening_rig(seed, KINDS[kind])
    possible = rig.log_gain(best_setting(rig))
    bench = Bench(evening_rig(seed, KINDS[kind]), possible)
    said = PLAYERS[name](bench)
    return Evening(bench.points, said)


def main() -> None:
    """Prints one table for each kind of rig."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rigs", type=int, default=60)
    parser.add_argument("--jobs", type=int, default=2, help="processes")
    parser.add_argument("--seed0", type=int, default=SEED0, help="first seed; 0 to develop")
    parser.add_argument("--kind", choices=[*KINDS, "all"], default="all")
    parser.add_argument("--only", default="", help="competitors whose name begins so")
    parser.add_argument("--picture", type=Path, help="where to draw the blame of the usual rigs")
    options = parser.parse_args()
    seeds = range(options.seed0, options.seed0 + options.rigs)
    print(f"rigs: {options.rigs}, seeds {seeds.start} to {seeds.stop - 1}")
    kinds = list(KINDS) if options.kind == "all" else [options.kind]
    with get_context("spawn").Pool(options.jobs) as pool:
        for kind in kinds:
            found = {}
            for name in PLAYERS:
                if not name.startswith(options.only):
                    continue
                started = time.perf_counter()
                found[name] = pool.map(partial(play, name, kind), seeds, chunksize=2)
                print(f"{kind}, {name}: {time.perf_counter() - started:.0f} s", flush=True)
            print(f"\n{kind}\n\n{table(found)}\n")
            for name, evenings in found.items():
                if any(e.said for e in evenings):
                    print(f"{name}\n\n{stated(evenings)}\n", flush=True)
            if options.picture and kind == "usual":
                draw(_blamed(found), options.picture)


def _blamed(found: dict[str, list[Evening]]) -> dict[str, list[Blamed]]:
    """The failed runs that one group failed, by who blamed them and when."""
    series = {}
    for name, evenings in found.items():
        said = [e.said for e in evenings if e.said]
        if said:
            series[f"{name}, as told"] = [b for s in said for b in s.blamed if b.true]
            series[f"{name}, at the end"] = [b for s in said for b in s.looked_back if b.true]
    return series


if __name__ == "__main__":
    main()
