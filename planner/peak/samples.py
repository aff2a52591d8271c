"""What earlier studies of like parts tell of where edges lie, before the first run of another.

Each study gives a knob's edge with its own uncertainty. Samples of one part differ; how much is
estimated from the studies' own differences, together with a usual spread that counts as two more
studies (an inverse-gamma prior: Gelman and others 2013, section 3.3, from memory; the usual spread
is common practice, no source).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import sqrt

import numpy as np

from planner.peak.findings import edge_draws
from planner.peak.search import PeakSearch
from planner.trade.student import t_quantile

USUAL_SPREAD = 0.08
"""Standard deviation of edges from sample to sample, in ranges of the knob."""
_COUNTS_AS = 2.0
"""Studies that the usual spread counts as."""


@dataclass(frozen=True, slots=True)
class SampleEdge:
    """Where one sample's edge lies, supports and data rate at stock."""

    mean: float
    sd: float
    runs: int
    """Runs that moved the knob from stock."""


@dataclass(frozen=True, slots=True)
class Spread:
    """Where another sample's edge probably lies."""

    mean: float
    sd: float
    samples: int

    @property
    def expected(self) -> tuple[float, float]:
        """The central 80 % interval, of Student's t: the spread is itself estimated."""
        half = t_quantile(0.9, _COUNTS_AS + self.samples - 1) * self.sd
        return self.mean - half, self.mean + half


def sample_edges(search: PeakSearch) -> dict[str, SampleEdge]:
    """The edge of every knob that some run speaks of, in the knob's unit."""
    return {
        knob.name: SampleEdge(float(draws.mean()), float(draws.std()), runs)
        for knob, draws, runs in edge_draws(search, search.history.definition.stock)
        if runs
    }


def spread_of(edges: Sequence[SampleEdge], range_width: float) -> Spread:
    """Where another sample's edge lies, given those of some; `range_width` of the knob's range."""
    means = np.array([edge.mean for edge in edges])
    within = float(np.mean([edge.sd**2 for edge in edges]))
    usual = (USUAL_SPREAD * range_width) ** 2
    # What studies differ by counts for the samples only beyond what each is unsure of.
    between = max(float(((means - means.mean()) ** 2).sum()) - (len(means) - 1) * within, 0.0)
    spread = (_COUNTS_AS * usual + between) / (_COUNTS_AS + len(means) - 1)
    sd = sqrt(spread * (1 + 1 / len(means)) + within / len(means))
    return Spread(float(means.mean()), sd, len(means))


def expected_of(
    samples: Sequence[Mapping[str, SampleEdge]], widths: Mapping[str, float]
) -> dict[str, Spread]:
    """For each knob that some sample tells of, where another's edge lies."""
    found = {}
    for name, width in widths.items():
        edges = [sample[name] for sample in samples if name in sample]
        if edges:
            found[name] = spread_of(edges, width)
    return found
