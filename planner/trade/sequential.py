"""Testing run by run: stop as soon as the failures so far settle it, and what that costs.

Each run fails with probability p. A sequential probability ratio test tells `good` (few enough
failures) from `bad`: it accepts once the failures d among n runs are at most s n - h1, and rejects
once they are at least s n + h2, with

    k = ln(bad (1 - good) / (good (1 - bad))),    s = ln((1 - good) / (1 - bad)) / k,
    h1 = ln((1 - alpha) / beta) / k,              h2 = ln((1 - beta) / alpha) / k.

`alpha` is the chance to reject what is good, `beta` that to accept what is bad; both are nominal.
Wald's own formula for the mean number of runs neglects by how much the limits are overshot (7 to
26 % too small in the handbook's example), so the runs are counted exactly: the probability of
every count of failures is carried on from run to run until next to nothing is undecided. All
symbols are pure numbers.

Sources: Wald, Sequential Analysis (1947), ch. 5; NIST/SEMATECH e-Handbook of Statistical Methods,
6.2.6.
"""

import math
from dataclasses import dataclass

LEFT = 1e-12
"""The counting stops once less than this is undecided."""
MAX_RUNS = 200_000


@dataclass(frozen=True, slots=True)
class Course:
    """What a sequential test comes to at one true failure probability."""

    runs: float
    """Mean number of runs until it is decided, exact to about 1e-9."""
    accepts: float
    """Probability that it accepts."""


@dataclass(frozen=True, slots=True)
class SequentialTest:
    """A sequential probability ratio test of the failure probability.

    Raises:
        ValueError: not 0 < good < bad < 1, or a risk not in 0 to 0.5, both excluded.
    """

    good: float
    """Failure probability that should be accepted."""
    bad: float
    """Failure probability that should be rejected."""
    alpha: float = 0.1
    beta: float = 0.1

    def __post_init__(self) -> None:
        if not 0 < self.good < self.bad < 1:
            raise ValueError(f"good = {self.good}, bad = {self.bad}: expected 0 < good < bad < 1")
        for name, risk in (("alpha", self.alpha), ("beta", self.beta)):
            if not 0 < risk < 0.5:
                raise ValueError(f"{name} = {risk}: expected between 0 and 0.5, both excluded")

    @property
    def slope(self) -> float:
        """`s`: failures per run along both limits."""
        return math.log((1 - self.good) / (1 - self.bad)) / self._k

    @property
    def heights(self) -> tuple[float, float]:
        """`h1` and `h2`, in failures."""
        return (
            math.log((1 - self.alpha) / self.beta) / self._k,
            math.log((1 - self.beta) / self.alpha) / self._k,
        )

    @property
    def _k(self) -> float:
        return math.log(self.bad * (1 - self.good) / (self.good * (1 - self.bad)))

    def accepts_at(self, runs: int) -> int:
        """The most failures among so many runs with which it accepts; -1: none is few enough."""
        return math.floor(self.slope * runs - self.heights[0] + 1e-9)

    def rejects_at(self, runs: int) -> int:
        """The fewest failures among so many runs with which it rejects."""
        return math.ceil(self.slope * runs + self.heights[1] - 1e-9)

    def runs_to_accept(self, failures: int) -> int:
        """Runs with which it accepts if exactly so many of them failed and it is still open."""
        return math.ceil((failures + self.heights[0]) / self.slope - 1e-9)

    def course(self, failing: float) -> Course:
        """Mean number of runs and the chance to accept, where each run fails so often."""
        if not 0 <= failing <= 1:
            raise ValueError(f"failing = {failing}: expected from 0 to 1")
        open_counts = {0: 1.0}
        runs = accepted = 0.0
        for n in range(1, MAX_RUNS):
            runs += sum(open_counts.values())
            open_counts = _one_more_run(open_counts, failing)
            accept, reject = self.accepts_at(n), self.rejects_at(n)
            accepted += sum(mass for d, mass in open_counts.items() if d <= accept)
            open_counts = {d: mass for d, mass in open_counts.items() if accept < d < reject}
            if sum(open_counts.values()) < LEFT:
                break
        return Course(runs, accepted)


def _one_more_run(counts: dict[int, float], failing: float) -> dict[int, float]:
    after: dict[int, float] = {}
    for failures, mass in counts.items():
        after[failures] = after.get(failures, 0.0) + mass * (1 - failing)
        after[failures + 1] = after.get(failures + 1, 0.0) + mass * failing
    return {failures: mass for failures, mass in after.items() if mass}
