"""One knob: the planner against hand work, bisection, TPE and QUEST+, family by family."""

from __future__ import annotations

import argparse
import copy
import time
from collections.abc import Callable, Iterator
from functools import partial
from multiprocessing import get_context

import numpy as np
from bench import Answer, Bench
from bounds import least_expected, probe
from by_hand import bisection, climb_by_four, climb_by_one
from ours import ours
from quest_plus import quest_plus
from scoring import Score, Truth, score
from table import HEAD, markdown, row
from tpe import tpe

from planner.rigs.families import FAMILIES

SEED0 = 10_000
"""Seeds of the evidence start here; 0 to 9999 are for development and are never reported."""
BOUNDED = ("slack", "alpha-power", "fine")
"""Families in which the stock value holds and the edge lies in the range, as the bounds assume."""

Competitor = Callable[[Bench, int], Answer]
COMPETITORS: dict[str, Competitor] = {
    "by-hand-1": lambda bench, _: climb_by_one(bench),
    "by-hand-4": lambda bench, _: climb_by_four(bench),
    "bisection": lambda bench, _: bisection(bench),
    "quest-plus": lambda bench, _: quest_plus(bench),
    "tpe": tpe,
    "ours": lambda bench, _: ours(bench),
}


class Evening:
    """All competitors on one rig, each from the same start."""

    def __init__(self, family: str, seed: int, names: list[str]) -> None:
        rig = FAMILIES[family](seed)
        self.probes = probe(copy.deepcopy(rig), seed)
        truth = Truth.of(rig)
        self.scores: dict[str, Score] = {}
        for name in names:
            bench = Bench(copy.deepcopy(rig))
            answer = COMPETITORS[name](bench, seed)
            self.scores[name] = score(bench, answer, truth)
        self.cells = max(1, (bench.top - bench.stock) // bench.stride)


def bounds(evenings: list[Evening]) -> Iterator[list[str]]:
    """Rows for the least expected minutes, at the mean minutes of this family's runs."""
    prices = mean_prices(evenings)
    for name, enough in (("clean edge within one step", 2), ("clean edge exactly", 1)):
        least = [least_expected(evening.cells, *prices, enough) for evening in evenings]
        yield [f"least for a {name}", f"{np.mean(least):.1f}"]


def mean_prices(evenings: list[Evening]) -> tuple[float, float]:
    """Mean minutes of a pass and of a crash, at values drawn evenly from the range."""
    probes = [run for evening in evenings for run in evening.probes]
    passed, crashed = ([m for held, m in probes if held is kind] for kind in (True, False))
    return float(np.mean(passed)), float(np.mean(crashed))


def prices_line(evenings: list[Evening]) -> str:
    """The prices in words."""
    passed, crashed = mean_prices(evenings)
    return f"A pass takes {passed:.2f} minutes, a crash {crashed:.2f}."


def main() -> None:
    """Prints one table for each family."""
    options = arguments()
    names = [name for name in COMPETITORS if name in options.only]
    seeds = range(options.seed0, options.seed0 + options.rigs)
    print(f"rigs a family: {options.rigs}, seeds {seeds.start} to {seeds.stop - 1}")
    with get_context("spawn").Pool(options.jobs) as pool:
        for family in options.families:
            started = time.perf_counter()
            play = partial(Evening, family, names=names)
            evenings = pool.map(play, seeds, chunksize=5)
            rows = [row(name, [evening.scores[name] for evening in evenings]) for name in names]
            if family in BOUNDED:
                rows += bounds(evenings)
            print(f"\n### {family}\n\n{prices_line(evenings)}", end=" ")
            print(f"Took {time.perf_counter() - started:.0f} s.\n")
            print(markdown(HEAD, rows), flush=True)


def arguments() -> argparse.Namespace:
    """What the command line says."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rigs", type=int, default=400, help="rigs of each family")
    parser.add_argument("--jobs", type=int, default=2, help="processes")
    parser.add_argument("--seed0", type=int, default=SEED0, help="first seed; 0 to develop")
    parser.add_argument("--only", type=split, default=[*COMPETITORS], help="competitors a,b")
    parser.add_argument("--families", type=split, default=[*FAMILIES], help="families a,b")
    return parser.parse_args()


def split(text: str) -> list[str]:
    """Names between commas."""
    return [name.strip() for name in text.split(",")]


if __name__ == "__main__":
    main()
