"""A rig as a competitor meets it: runs in, outcomes out, minutes and the best kept."""

from __future__ import annotations

from dataclasses import dataclass, field

from planner.domain.knob import Setting
from planner.rigs.evening.rig import EveningRig
from planner.rigs.result import RigRun

LAST = 180.0
"""Bench minutes after which no run is started."""


@dataclass(frozen=True)
class Point:
    """One run of an evening."""

    minutes: float
    """Bench minutes at its end."""
    failed: bool
    share: float
    """Of the possible gain: the best setting that has passed by then, by its noise-free score."""


@dataclass
class Bench:
    """Keeps the books of one evening."""

    rig: EveningRig
    possible: float
    """Log score that the best setting gains over stock."""
    points: list[Point] = field(default_factory=list)

    @property
    def over(self) -> bool:
        """Whether the evening is over."""
        return self.rig.minutes >= LAST

    @property
    def share(self) -> float:
        """Of the possible gain, so far."""
        return self.points[-1].share if self.points else 0.0

    def run(self, settings: Setting) -> RigRun:
        """One nominal run; what passes counts by its noise-free score in the room of the start."""
        result = self.rig.run(settings)
        failed = result.outcome != "pass"
        gained = 0.0 if failed else self.rig.log_gain(settings) / self.possible
        share = max(self.share, gained)
        self.points.append(Point(self.rig.minutes, failed, share))
        return result
