"""The grid posterior against probabilistic bisection in exact fractions.

Source: Horstein, IEEE Trans. Inf. Theory 9 (1963) 136 (from memory). [0, 1] is laid over the grid
so that queries fall on centres of cells; the cells at both ends then hold half a cell each.
"""

from collections import Counter
from fractions import Fraction
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from planner.models.edge import SLIP, EdgePosterior, posterior
from planner.models.edge_grid import EdgeGrid
from planner.models.evidence import Observation
from planner.models.hazard import Shapes
from tests.models.probabilistic_bisection import Density
from tests.models.stand_ins import NoisyStep

CELLS = 648
"""[0, 1] in cells; a multiple of every denominator that is asked."""


class Line:
    """[0, 1] on a grid."""

    def __init__(self, shapes: Any) -> None:
        """Cells one step wide; the first centre within [0, 1] is 1/2."""
        self.grid = EdgeGrid(steps=CELLS + 8, tolerance=8.0, target=0.5, shapes=shapes)
        self.first = self.grid.edges[self.grid.edges > 0][0]

    def after(self, answers: list[tuple[Fraction, bool]]) -> EdgePosterior:
        """Uniform before the answers; right means that it held."""
        prior = np.where(
            (self.grid.edges >= self.first) & (self.grid.edges <= self.first + CELLS), 1.0, 0.0
        )
        prior[prior.nonzero()[0][[0, -1]]] = 0.5
        seen = Counter(
            Observation(self.first + float(query * CELLS), *((1.0, None) if right else (0.0, 1.0)))
            for query, right in answers
        )
        return posterior(self.grid, prior[None, :], seen)

    def exact(self, density: Density) -> NDArray[np.float64]:
        """Probability of each cell of the grid, shape (n,)."""
        cuts = [float(cut * CELLS) for cut in density.cuts]
        below = np.concatenate(([0.0], np.cumsum([float(mass) for mass in density.masses])))
        ends = np.append(self.grid.edges - 0.5, self.grid.edges[-1] + 0.5) - self.first
        return np.diff(np.interp(ends, cuts, below))

    def point(self, edge: EdgePosterior, share: float) -> float:
        """Quantile in [0, 1]."""
        return (edge.quantile(share) - self.first) / CELLS


def asked(answers: str, correct: Fraction) -> tuple[Density, list[tuple[Fraction, bool]]]:
    """Every query at the exact median; R and L as answered."""
    density, told = Density(), []
    for answer in answers:
        query = density.median()
        told.append((query, answer == "R"))
        density = density.answered(query, answer == "R", correct)
    return density, told


@pytest.mark.parametrize(
    ("answers", "median"),
    [
        ("", "1/2"),
        ("R", "2/3"),
        ("RR", "7/9"),
        ("RL", "5/9"),
        ("RRL", "19/27"),
        ("RLR", "17/27"),
        ("RRRR", "73/81"),
        ("LLL", "4/27"),
    ],
)
def test_noisy_answers(answers: str, median: str) -> None:
    """Answers right with 3/4: the posterior median is the exact fraction, and each cell's
    probability the exact one; only the chance of a slip of the pen keeps them apart."""
    density, told = asked(answers, Fraction(3, 4))
    line = Line(NoisyStep(0.75))
    edge = line.after(told)
    assert line.point(edge, 0.5) == pytest.approx(float(Fraction(median)), abs=1e-5)
    assert edge.mass == pytest.approx(line.exact(density), abs=10 * SLIP)


@pytest.mark.parametrize("answers", ["R", "LR", "RL", "RR", "LL"])
def test_without_width_and_lapse_it_is_plain_bisection(answers: str) -> None:
    """A curve as steep as a step and no stray crashes: uniform within the bracket of the easiest
    failure and hardest pass, nothing outside, as certain answers give in exact fractions."""
    density, told = asked(answers, Fraction(1))
    held = max([query for query, right in told if right], default=Fraction(0))
    failed = min([query for query, right in told if not right], default=Fraction(1))
    line = Line(Shapes(widths=(1e-4,), spreads=(1e-6,), lapse=0.0))
    edge = line.after(told)
    assert edge.mass == pytest.approx(line.exact(density), abs=10 * SLIP)
    for share in (0.25, 0.5, 0.75):
        exact = float(held + Fraction(share) * (failed - held))
        assert line.point(edge, share) == pytest.approx(exact, abs=1e-4)
