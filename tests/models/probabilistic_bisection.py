"""Probabilistic bisection in exact fractions: the reference that a grid posterior must meet.

The edge has a uniform prior on [0, 1]. Each query, at the posterior median, is answered "right"
(the edge lies to the right) or "left", correctly with a known probability.

Source: Horstein, IEEE Trans. Inf. Theory 9 (1963) 136; Waeber, Frazier and Henderson, SIAM J.
Control Optim. 51 (2013) 2261 (from memory).
"""

from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True)
class Density:
    """Constant between neighbouring cuts; `heights` has one entry fewer than `cuts`."""

    cuts: tuple[Fraction, ...] = (Fraction(0), Fraction(1))
    heights: tuple[Fraction, ...] = (Fraction(1),)

    @property
    def masses(self) -> list[Fraction]:
        """Probability of each piece."""
        return [height * (self.cuts[i + 1] - self.cuts[i]) for i, height in enumerate(self.heights)]

    def median(self) -> Fraction:
        """The first point with half of the probability below it."""
        below = Fraction(0)
        for cut, height, mass in zip(self.cuts, self.heights, self.masses, strict=False):
            if below + mass >= Fraction(1, 2):
                return cut + (Fraction(1, 2) - below) / height if height else cut
            below += mass
        raise AssertionError("a density holds all of its probability")

    def answered(self, query: Fraction, right: bool, correct: Fraction) -> "Density":
        """The posterior after one answer, by Bayes' rule."""
        cuts = tuple(sorted({*self.cuts, query}))
        heights = []
        for left in cuts[:-1]:
            piece = max(i for i, cut in enumerate(self.cuts[:-1]) if cut <= left)
            agrees = (left >= query) == right
            heights.append(self.heights[piece] * (correct if agrees else 1 - correct))
        total = sum(Density(cuts, tuple(heights)).masses)
        return Density(cuts, tuple(height / total for height in heights))
