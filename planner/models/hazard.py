"""The chance that a run holds, as one knob is turned.

In one run the edge stands shifted by a draw of that run, normal with standard deviation
`spread`; given the shift, it fails at a rate that is constant, or grows while the part warms up:

    S(t) = (1 - lapse)^t * E_shift[ exp(-t^g * exp((x - L - shift) / s)) ]

`t` is time as a share of a nominal run, `g` the growth (1: a constant rate; past a nominal run,
when the part is warm, the rate is constant anyway, and `t` stands for `t^g`), `x` the knob's
hardness and `L` the location (both in steps from the easiest value towards failure), `s` the width
in steps, `lapse` the share of nominal runs that crash for reasons that the setting did not cause.
Without shift and lapse the chance of failure is the complementary log-log curve of binary
regression (Dobson, Introduction to Generalized Linear Models, "extreme value" model). The
expectation is taken over equally likely quantiles of the shift.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import product
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from planner.domain.tables import LAPSE

Array = NDArray[np.float64]

_NODES = 15
_TOO_LATE = 60.0
"""exp of more than this is a certain failure; keeps exp from overflowing."""


def _quantiles() -> Array:
    normal = NormalDist()
    nodes = np.array([normal.inv_cdf((i + 0.5) / _NODES) for i in range(_NODES)])
    return np.asarray(nodes / np.sqrt(np.mean(nodes**2)))


@dataclass(frozen=True)
class Shapes:
    """Every combination of width, spread and growth that is held possible, `m` of them."""

    widths: tuple[float, ...]
    spreads: tuple[float, ...]
    lapse: float = LAPSE
    growths: tuple[float, ...] = (1.0,)

    @cached_property
    def width(self) -> Array:
        """Width of each shape, in steps, shape (m,)."""
        return self._every[:, 0]

    @cached_property
    def spread(self) -> Array:
        """Run-to-run standard deviation of the edge of each shape, in steps, shape (m,)."""
        return self._every[:, 1]

    @cached_property
    def growth(self) -> Array:
        """Power of time with which the chance to have failed grows, at first, shape (m,)."""
        return self._every[:, 2]

    @cached_property
    def _every(self) -> Array:
        return np.array(list(product(self.widths, self.spreads, self.growths)), float)

    def exposure(self, share: float) -> Array:
        """What `share` of a nominal run counts for, shape (m, 1)."""
        grown = share**self.growth if share < 1 else np.full_like(self.growth, share)
        return np.asarray(grown[:, None])

    def hazard(self, beyond: Array) -> Array:
        """Failures per nominal run at `beyond` steps past the location, for each shift.

        Takes and gives  # (m, n) -> (m, n, nodes)
        """
        shifted = beyond[..., None] - self.spread[:, None, None] * _quantiles()
        return np.exp(np.minimum(shifted / self.width[:, None, None], _TOO_LATE))

    def survival(self, beyond: Array, share: float) -> Array:
        """Chance to hold for `share` of a nominal run, shape (m, n) -> (m, n)."""
        if share <= 0:
            return np.ones_like(beyond)
        held = np.exp(-self.exposure(share)[..., None] * self.hazard(beyond)).mean(axis=-1)
        return np.asarray((1 - self.lapse) ** share * held)

    def counted(self, beyond: Array, share: float, errors: int) -> Array:
        """Chance of about so many errors in `share` of a nominal run, shape (m, n) -> (m, n).

        Errors are Poisson on the same hazard, told apart only as one, a few (2 to 9) and many:
        real counts come in bursts, and an exact count would be taken for more than it says.
        """
        stray = -share * np.log(1 - self.lapse)
        mean = self.exposure(share)[..., None] * self.hazard(beyond) + stray
        first, last = (1, 1) if errors <= 1 else (2, 9) if errors < 10 else (0, 9)
        term = np.exp(-np.minimum(mean, 600.0))
        total = term.copy() if first == 0 else np.zeros_like(term)
        for count in range(1, last + 1):
            term = term * mean / count
            if count >= first:
                total += term
        chance = 1 - total if errors >= 10 else total
        return np.asarray(np.clip(chance, 0.0, 1.0).mean(axis=-1))

    def edge_beyond(self, target: float) -> Array:
        """How far past the location each shape passes a nominal run with `target`, shape (m,).

        Raises:
            ValueError: a target that no value reaches, because of lapses.
        """
        if not 0 < target < 1 - self.lapse:
            raise ValueError(f"target = {target}: expected from 0 to under {1 - self.lapse:g}")
        low = -40 * self.width - 6 * self.spread
        high = 40 * self.width + 6 * self.spread
        for _ in range(50):
            middle = (low + high) / 2
            holds = self.survival(middle[:, None], 1.0)[:, 0] >= target
            low, high = np.where(holds, middle, low), np.where(holds, high, middle)
        return np.asarray((low + high) / 2)


def log_spaced(low: float, high: float, count: int) -> Sequence[float]:
    """`count` values from low to high in equal ratios."""
    return [float(v) for v in np.geomspace(low, max(low, high), count)]
