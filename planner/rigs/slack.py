"""The plainest rig: slack falls by one step for each step towards failure."""

from dataclasses import dataclass

import numpy as np

from planner.rigs.normal import FloatArray


@dataclass(frozen=True, slots=True)
class Slack:
    """Constant mean slack through a run.

    Raises:
        ValueError: noise or spread that is not positive.
    """

    zero: float
    """Hardness at which no slack is left on average, in steps."""
    noise: float
    """Standard deviation from second to second, in steps; about the edge's width."""
    spread: float
    """Standard deviation from run to run, in steps."""

    def __post_init__(self) -> None:
        if self.noise <= 0 or self.spread <= 0:
            raise ValueError(f"noise {self.noise:g}, spread {self.spread:g}: expected positive")

    def slack(self, hardness: float, seconds: int) -> FloatArray:
        """Mean slack in each second, in steps."""
        return np.full(seconds, self.zero - hardness)
