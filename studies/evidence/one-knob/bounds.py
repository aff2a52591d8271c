"""The least that any search could spend on a clean edge: exact dynamic programmes.

The edge lies in one of n cells alike, the stock value is known to hold, a value either always
passes or always crashes. With p and c the minutes of a pass and a crash, and cutting below cell k,

    T(n) = min_k [ k (c + T(k)) + (n - k) (p + T(n - k)) ] / n,    T(n) = 0 for n <= `enough`:

`enough` 1 finds the best sound value exactly, 2 to within one step of it. A real edge also has
run-to-run spread, noise and stray crashes, so this is a floor, not a rival.
"""

from __future__ import annotations

from functools import cache

import numpy as np

from planner.rigs.one_knob import OneKnobRig

PROBES = 20


@cache
def least_expected(cells: int, pass_cost: float, crash_cost: float, enough: int = 1) -> float:
    """Expected cost of the best search among `cells` equally likely ones."""
    total = np.zeros(cells + 1)  # n T(n)
    for n in range(enough + 1, cells + 1):
        k = np.arange(1, n)
        total[n] = (crash_cost * k + total[k] + pass_cost * (n - k) + total[n - k]).min()
    return float(total[cells] / cells)


def probe(rig: OneKnobRig, seed: int) -> list[tuple[bool, float]]:
    """Whether runs at values drawn evenly from the whole range passed, and their minutes."""
    places = np.random.default_rng(seed).integers(0, len(rig.knob.values), PROBES)
    runs = [rig.run({rig.knob.name: rig.knob.values[place]}) for place in places]
    return [(run.outcome == "pass", run.minutes) for run in runs]
