"""QUEST+: the published rule, on a grid of parameters.

Watson, "QUEST+: A general multidimensional Bayesian adaptive psychometric method", Journal of
Vision 17(3):10, 2017. A posterior over all parameter values is kept as a table; the next stimulus
is the one with the least expected entropy of the posterior after its answer (the first of equals).
Curve of his examples, stimulus x and threshold t in dB, slope b, guess g, lapse l:

    p(correct) = 1 - l - (1 - g - l) exp(-10^(b (x - t) / 20)).
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def weibull_db(x: Array, t: Array, b: Array, g: float, lapse: float) -> Array:
    """Probability of a correct answer; shapes broadcast."""
    return 1 - lapse - (1 - g - lapse) * np.exp(-(10 ** (b * (x - t) / 20)))


@dataclass(frozen=True)
class QuestPlus:
    """The posterior after the answers given so far."""

    chances: Array
    """Probability of `correct`, shape (stimuli, parameter values)."""
    posterior: Array
    """Shape (parameter values,), sums to 1."""

    @classmethod
    def start(cls, chances: Array) -> QuestPlus:
        """A uniform prior over the parameter values."""
        return cls(chances, np.full(chances.shape[1], 1 / chances.shape[1]))

    def next_stimulus(self) -> int:
        """Place of the stimulus with the least expected entropy."""
        expected = np.zeros(len(self.chances))
        for likelihood in (self.chances, 1 - self.chances):
            joint = likelihood * self.posterior  # (stimuli, parameter values)
            total = joint.sum(axis=1, keepdims=True)
            after = joint / total
            logs = np.log(after, out=np.zeros_like(after), where=after > 0)
            expected -= total[:, 0] * (after * logs).sum(axis=1)
        return int(np.argmin(expected))

    def told(self, stimulus: int, correct: bool) -> QuestPlus:
        """The posterior with one more answer."""
        row = self.chances[stimulus]
        posterior = self.posterior * (row if correct else 1 - row)
        return replace(self, posterior=posterior / posterior.sum())
