"""What ways to a score are worked out from: how it answers to knobs, and what holds."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple, Protocol

from planner.domain.knob import Setting
from planner.models.hazard import Array


@dataclass(frozen=True, slots=True)
class Slope:
    """What one step of a knob towards harder does to the score."""

    knob: str
    per_step: float
    """Change of ln(score), about the relative gain."""
    error: float
    """Its standard error."""

    @property
    def known(self) -> bool:
        """Whether it is told from none: two standard errors."""
        return abs(self.per_step) > 2 * self.error


class Level(NamedTuple):
    """ln(score) at a setting."""

    mean: float
    error: float
    """Standard error of the mean, which all runs there share."""
    noise: float
    """Standard deviation of one run about it."""
    freedom: float
    """Degrees of freedom of both; infinite where they are not estimated from residuals."""


class Answering(Protocol):
    """How a score answers to one knob at a time, from one setting on."""

    @property
    def slopes(self) -> tuple[Slope, ...]:
        """Of every knob that was varied."""
        ...

    def score(self) -> float:
        """At the setting itself, freed of its runs' luck."""
        ...

    def steps_to(self, slope: Slope, ratio: float) -> tuple[float, tuple[float, float]]:
        """Steps of a knob that multiply the score by `ratio`, and their 90 % interval.

        The interval has no end where it may never be reached.
        """
        ...

    def after(self, knob: str, steps: float) -> Level:
        """That many steps of a knob harder."""
        ...


@dataclass(frozen=True)
class Holding:
    """Whether a nominal run holds at one setting, and what it takes."""

    chances: Array
    """Every chance that is held possible, shape (n,)."""
    weights: Array
    """How likely each is, shape (n,); they add up to 1."""
    minutes: float
    """Expected minutes of such a run, all in."""

    @property
    def chance(self) -> float:
        """The chance that the next run holds."""
        return float(self.chances @ self.weights)


@dataclass(frozen=True)
class Ways:
    """What a study's own search says of settings."""

    holding: Callable[[Setting], Holding | None]
    """None: it says nothing of that setting."""
    answering: Callable[[Setting], Answering | None] = lambda setting: None
    """How the score answers from a setting on; None: not known, or left to the scored runs."""


UNKNOWN = Ways(holding=lambda setting: None)
"""Of a study that searches for something else."""
