"""What makes a simulated run fail: slack that noise eats up, second by second.

In second `t` of a run at hardness `h` the slack is `m_t(h) + shift + noise_t`, all in steps of the
knob: `m_t` the mean of this rig, `shift` one Gaussian draw for the whole run (standard deviation
`spread`), `noise_t` a Gaussian draw each second (standard deviation `noise`). The first second
with negative slack ends the run. Apart from that a run of any length is ended by a stray crash
with a probability that the setting has no part in. So, with `F` the normal distribution function,

    P(pass) = (1 - stray) E_shift[ prod_t F((m_t(h) + shift) / noise) ].
"""

from typing import Protocol

import numpy as np

from planner.rigs.normal import FloatArray, log_cdf

_NODES = np.linspace(-6.0, 6.0, 201)
_WEIGHTS = np.exp(-0.5 * _NODES**2) / np.exp(-0.5 * _NODES**2).sum()


class Physics(Protocol):
    """How much slack a rig has."""

    @property
    def noise(self) -> float:
        """Standard deviation of the slack from second to second, in steps."""
        ...

    @property
    def spread(self) -> float:
        """Standard deviation of the slack from run to run, in steps."""
        ...

    def slack(self, hardness: float, seconds: int) -> FloatArray:
        """Mean slack in each second of a run, in steps, shape (seconds,)."""
        ...


def hold_probability(physics: Physics, hardness: float, seconds: int) -> float:
    """Probability that slack lasts through the run; stray crashes left out."""
    means, counts = np.unique(physics.slack(hardness, seconds), return_counts=True)
    shifted = means + physics.spread * _NODES[:, None]  # (nodes, distinct means)
    logs = log_cdf(shifted / physics.noise) @ counts
    return float(_WEIGHTS @ np.exp(logs))


def first_failure(
    physics: Physics, hardness: float, seconds: int, rng: np.random.Generator
) -> int | None:
    """The second, from 1, in which slack turned negative; None where it lasted."""
    shift = physics.spread * rng.standard_normal()
    slack = physics.slack(hardness, seconds) + physics.noise * rng.standard_normal(seconds)
    second = int(np.argmax(slack + shift < 0))
    return second + 1 if slack[second] + shift < 0 else None
