"""Passes and failures that do not overlap: no width can be read from them, and none is claimed.

A maximum-likelihood slope exists only where the groups overlap (Albert and Anderson, Biometrika
71 (1984) 1; Silvapulle, J. R. Statist. Soc. B 43 (1981) 310; from memory). Fits issue a warning at
best, and some report convergence all the same.
"""

from collections import Counter
from typing import Any

import numpy as np
import pytest

from planner.models.edge import EdgePosterior, posterior
from planner.models.edge_grid import EdgeGrid
from planner.models.evidence import Observation
from planner.models.hazard import Shapes
from planner.models.separation import separation
from tests.models.stand_ins import logit, probit

Runs = list[tuple[float, int]]
"""Hardness, and 1 for a failure."""
S1 = [(float(x), int(x >= 5)) for x in range(1, 9)]
S3 = [(1.0, 0), (2.0, 0), (3.0, 0), (4.0, 0), (4.0, 1), (5.0, 1), (6.0, 1), (7.0, 1)]


def reported(runs: Runs) -> str:
    """How the planner calls them."""
    passed, failed = ([x for x, y in runs if y == kind] for kind in (0, 1))
    return separation(passed, failed).value


def found(shapes: Any, runs: Runs, span: tuple[float, float], target: float) -> EdgePosterior:
    """The posterior when every edge within `span` is equally likely."""
    grid = EdgeGrid(9, 0.2, target, shapes)
    flat = np.ones((len(shapes.width), 1)) * ((span[0] < grid.edges) & (grid.edges < span[1]))
    seen = Counter(Observation(x, 0.0, 1.0) if y else Observation(x, 1.0, None) for x, y in runs)
    return posterior(grid, flat, seen)


def mean_and_sd(edge: EdgePosterior) -> tuple[float, float]:
    """In steps."""
    mean = float(edge.mass @ edge.grid.edges)
    return mean, float(np.sqrt(edge.mass @ (edge.grid.edges - mean) ** 2))


@pytest.mark.parametrize(
    ("runs", "expected"),
    [
        (S1, {"separated"}),
        (S3, {"touching"}),
        ([(14, 0), (15, 1), (16, 1)], {"separated"}),
        ([(14, 0), (16, 1)], {"separated"}),
        ([(13, 0), (14, 0), (15, 1), (16, 1)], {"separated"}),
        ([(14, 0), (16, 0), (16, 1)], {"touching"}),
        ([(10, 0), (11, 1), (12, 1), (8, 1)], {"width not estimable"}),
    ],
)
def test_no_width_is_claimed(runs: Runs, expected: set[str]) -> None:
    """Eight levels that separate and eight that share one (quasi-separation), then the cases 6 and
    17 to 24 of `wxdat.R` in AFIT-R/gonogo, a sensitivity-test program: separated, one shared
    level, and a pass between failures whose width grows without bound."""
    assert reported(runs) in expected


@pytest.mark.parametrize("passed", [(7.0, 8.0), (5.0, 7.0, 8.0), (4.0, 8.0)])
def test_failures_below_passes_give_no_width(passed: tuple[float, ...]) -> None:
    """Every failure at or below every pass is complete or quasi-complete separation too: the
    likelihood has no maximum at any width (Albert and Anderson 1984)."""
    assert reported([(3.0, 1), (4.0, 1), *((x, 0) for x in passed)]) == "width not estimable"


def test_overlap_is_reported() -> None:
    """The beetles' overlap is what makes their fit exist: a pass beyond a failure, and back."""
    assert reported([(1, 0), (2, 0), (3, 1), (4, 0), (5, 1), (6, 1)]) == "overlapping"


@pytest.mark.parametrize(
    ("sigma", "sd", "low", "high"),
    [(0.1, 0.30551, 3.966, 5.035), (0.5, 0.53423, 3.464, 5.536), (1.0, 0.76765, 3.004, 5.996)],
)
def test_uncertainty_grows_with_the_noise(sigma: float, sd: float, low: float, high: float) -> None:
    """S1 under a probit curve of known sigma, edge uniform on 0.5 to 8.5; integrated numerically
    by other code: separation does not make the edge certain."""
    edge = found(probit((sigma,)), S1, (0.5, 8.5), 0.5)
    assert mean_and_sd(edge) == pytest.approx((4.5, sd), abs=1e-3)
    assert edge.interval(0.95) == pytest.approx((low, high), abs=5e-3)


@pytest.mark.parametrize(("runs", "midpoint"), [(S1, 4.5), (S3, 4.0)])
def test_midpoint_by_symmetry(runs: Runs, midpoint: float) -> None:
    """A symmetric curve puts the edge midway, 4.5 and 4.0, as penalised fits do (Firth, Biometrika
    80 (1993) 27; their figures computed)."""
    edge = found(logit((0.2, 0.5, 1.0)), runs, (midpoint - 4, midpoint + 4), 0.5)
    assert mean_and_sd(edge)[0] == pytest.approx(midpoint, abs=1e-6)


@pytest.mark.parametrize("runs", [S1, S3])
def test_the_models_own_interval_stays_wide(runs: Runs) -> None:
    """With the widths free the interval reaches past the bracket's ends, and it is the wider the
    wider the curves that are held possible."""
    widths, spans = ((0.05,), (0.05, 0.5), (0.05, 0.5, 2.0)), []
    for held_possible in widths:
        low, high = found(Shapes(held_possible, (0.1, 0.4)), runs, (0, 9), 0.9).interval()
        spans.append(high - low)
    assert spans[0] > 0.2
    assert spans[0] < spans[1] < spans[2]


def test_runs_at_both_ends_of_a_bracket_do_not_close_it() -> None:
    """However often 4 holds and 5 fails, a sharp edge stays anywhere between: the likelihood of
    separated runs alone would drive the width to nothing and say no more of the place."""
    runs = [(4.0, 0)] * 50 + [(5.0, 1)] * 50
    low, high = found(Shapes((0.02,), (0.02,)), runs, (0, 9), 0.9).interval()
    assert high - low > 0.7
