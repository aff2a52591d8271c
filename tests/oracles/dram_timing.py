"""Oracles from measurements on real memory: which timings ran without an error, and how often.

30 DDR3 SO-DIMMs of three makers, timings lowered in steps of 2.5 ns (data set "DRAM Latency
Variation Study", repository CMU-SAFARI/DRAM-Latency-Variation-Study, published with a paper at
SIGMETRICS 2016). A cell is one module at one temperature. Cells without an error, tRCD lowered
while tRP stays at 12.5 ns: 37 of 37 at 12.5 ns, 42 of 42 at 10.0, 0 of 46 at 7.5, 0 of 46 at 5.0,
0 of 45 at 2.5. tRP lowered: 37 of 37, 30 of 30, 0 of 30, 0 of 30, 0 of 21. One module, y17, at
tRCD 7.5 ns and 20 C failed 38 of 52 runs (data patterns pooled), so one pass there means little.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import numpy as np

LEVELS = (12.5, 10.0, 7.5, 5.0, 2.5)
"""ns, from the easiest to the hardest."""
CELLS = {
    "tRCD": ((37, 37), (42, 42), (0, 46), (0, 46), (0, 45)),
    "tRP": ((37, 37), (30, 30), (0, 30), (0, 30), (0, 21)),
}
"""Cells without an error, and all cells, at each level."""
Y17_PASSED, Y17_RUNS = 52 - 38, 52


@dataclass
class TimingOracle:
    """Answers runs at a timing, and counts them."""

    timing: str
    chances: dict[float, float]
    """Probability that a run at a level shows no error."""
    draws: np.random.Generator = field(default_factory=lambda: np.random.default_rng(0))
    asked: list[float] = field(default_factory=list)

    def passes(self, level: float) -> bool:
        """Whether one run shows no error."""
        self.asked.append(level)
        return bool(self.draws.random() < self.chances[level])

    @property
    def definition(self) -> dict[str, Any]:
        """The tables of a study of this timing."""
        return {
            "study": {"name": self.timing, "aim": "edge", "knob": self.timing},
            "knob": [
                {"name": self.timing, "unit": "ns", "low": LEVELS[-1], "high": LEVELS[0]}
                | {"step": 2.5, "stock": LEVELS[0], "harder": "down"}
            ],
        }


def every_module(timing: str) -> TimingOracle:
    """All cells agree at every level, so it answers alike every time."""
    held = zip(LEVELS, CELLS[timing], strict=True)
    return TimingOracle(timing, {level: good / cells for level, (good, cells) in held})


def borderline_module(seed: int) -> TimingOracle:
    """y17, whose runs at 7.5 ns pass 14 times in 52."""
    oracle = every_module("tRCD")
    oracle.chances[7.5] = Y17_PASSED / Y17_RUNS
    oracle.draws = np.random.default_rng(seed)
    return oracle
