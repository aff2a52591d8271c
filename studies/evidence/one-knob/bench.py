"""One evening at a simulated bench: what every competitor sees, and what it has spent."""

from __future__ import annotations

from dataclasses import dataclass, field

from planner.rigs.one_knob import RUN_MINUTES, OneKnobRig
from planner.rigs.result import RigRun

RUNAWAY = 500
"""A competitor that asks for more runs than this never ends."""


@dataclass(frozen=True)
class Answer:
    """What a competitor holds to be the hardest value that is sound, by place from the easiest."""

    index: int | None
    """None: no value of the range is sound."""
    interval: tuple[float, float] | None = None
    """Ends of the 90 % interval of the edge, in steps from the easiest value."""


@dataclass
class Bench:
    """Runs by place from the easiest value (0) to the hardest (`top`)."""

    rig: OneKnobRig
    log: list[tuple[int, RigRun]] = field(default_factory=list)

    @property
    def top(self) -> int:
        return len(self.rig.knob.values) - 1

    @property
    def stock(self) -> int:
        return self.rig.knob.values.index(self.rig.knob.stock)

    @property
    def tolerance(self) -> float:
        """Steps that count as one: a step, or a fortieth of the range where steps are fine."""
        return max(1.0, self.top / 40)

    @property
    def stride(self) -> int:
        """The tolerance in whole steps: what a person takes for one step."""
        return round(self.tolerance)

    def run(self, index: int) -> RigRun:
        """One nominal run."""
        if len(self.log) >= RUNAWAY:
            raise RuntimeError(f"more than {RUNAWAY} runs")
        result = self.rig.run({self.rig.knob.name: self.rig.knob.values[index]})
        self.log.append((index, result))
        return result

    def passes(self, index: int) -> bool:
        """Whether one nominal run passes."""
        return self.run(index).outcome == "pass"

    @property
    def minutes(self) -> float:
        return sum(result.minutes for _, result in self.log)

    @property
    def run_minutes(self) -> float:
        return RUN_MINUTES

    @property
    def crashes(self) -> int:
        return sum(result.outcome == "crash" for _, result in self.log)

    def borne_out(self, index: int) -> bool:
        """Whether anything passed at or above a value."""
        return any(at >= index and result.outcome == "pass" for at, result in self.log)
