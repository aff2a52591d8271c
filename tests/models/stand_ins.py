"""Curves of other families in place of `Shapes`, where a published answer is for such a curve.

Each has what `EdgeGrid` asks of its shapes: the chance to hold at a distance past the location,
and the distance at which it holds with the target probability. They know nominal runs only.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.stats import logistic, norm

Array = NDArray[np.float64]


@dataclass(frozen=True)
class SymmetricShapes:
    """P(hold) = 1 - F((x - L) / s) with F the distribution function of a symmetric family."""

    family: Any
    """A continuous distribution of scipy.stats."""
    widths: tuple[float, ...]

    @property
    def width(self) -> Array:
        """Steps, shape (m,)."""
        return np.asarray(self.widths)

    def survival(self, beyond: Array, share: float) -> Array:
        """Shape (m, n) -> (m, n)."""
        assert share in (0.0, 1.0), "only nominal runs"
        if share == 0:
            return np.ones_like(beyond)
        return np.asarray(self.family.sf(beyond / self.width[:, None]))

    def edge_beyond(self, target: float) -> Array:
        """Shape (m,)."""
        return np.asarray(self.family.isf(target) * self.width)


@dataclass(frozen=True)
class NoisyStep:
    """Below the edge a run holds with the chance `correct`, beyond it with 1 - `correct`."""

    correct: float

    def survival(self, beyond: Array, share: float) -> Array:
        """Half on the step itself, because half of that grid cell lies on either side."""
        if share == 0:
            return np.ones_like(beyond)
        return 0.5 - (self.correct - 0.5) * np.sign(np.round(beyond, 9))

    def edge_beyond(self, target: float) -> Array:
        """The step is the edge."""
        return np.zeros(1)


Family = Callable[[tuple[float, ...]], SymmetricShapes]


def logit(widths: tuple[float, ...]) -> SymmetricShapes:
    """Logistic regression with the slopes 1 / width."""
    return SymmetricShapes(logistic, widths)


def probit(widths: tuple[float, ...]) -> SymmetricShapes:
    """Probit regression with the slopes 1 / width."""
    return SymmetricShapes(norm, widths)
