"""A simulated bench with one knob: runs that cost minutes, and the truth about them."""

from bisect import bisect_left
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from planner.domain.knob import Knob, Value
from planner.errors import InputError
from planner.rigs.physics import Physics, first_failure, hold_probability
from planner.rigs.result import RigRun

RUN_MINUTES = 5.0
RESTART_MINUTES = 4.0
RESTART_LOG_SD = 0.3
TARGET = 0.9
_SECONDS = round(RUN_MINUTES * 60)


@dataclass
class OneKnobRig:
    """One knob, changed live and lost in a restart; the same generator gives the same evening."""

    knob: Knob
    physics: Physics
    stray: float
    """Share of nominal runs that crash without the setting's doing, at any time alike."""
    seed: int
    """Handed on to the study, so that its own draws repeat too."""
    draws: np.random.Generator

    def __post_init__(self) -> None:
        self._held: Value = self.knob.stock

    @property
    def definition(self) -> dict[str, Any]:
        """The tables of `study.toml` for this rig."""
        grid = self.knob.grid
        assert grid is not None, self.knob.name
        study = {"name": f"rig {self.seed}", "aim": "edge", "knob": self.knob.name}
        knob = {"name": self.knob.name, "group": "core", "low": grid.low, "high": grid.high}
        knob |= {"step": grid.step, "stock": self.knob.stock, "harder": self.knob.harder.value}
        knob |= {"where": self.knob.where.value, "change_minutes": self.knob.change_minutes}
        return {
            "study": {**study, "target": TARGET, "seed": self.seed},
            "rig": {"reboot_minutes": RESTART_MINUTES},
            "group": [{"name": "core"}],
            "knob": [knob],
            "workload": [{"name": "loop", "minutes": RUN_MINUTES}],
        }

    def run(self, settings: Mapping[str, Value]) -> RigRun:
        """One nominal run.

        Raises:
            InputError: not a value of the knob.
        """
        value = settings.get(self.knob.name)
        if value is None or isinstance(value, str) or not self.knob.allows(value):
            raise InputError(f"{self.knob.name} = {value}: expected {self.knob.describe_values()}")
        dialling = 0.0 if value == self._held else self.knob.change_minutes
        run = self.attempt(value)
        self._held = value if run.outcome == "pass" else self.knob.stock
        return replace(run, minutes=dialling + run.minutes)

    def attempt(self, value: float) -> RigRun:
        """One nominal run at a value that is dialled in already."""
        failed = self._failure_second(self.knob.hardness(value))
        restart = self.draws.normal(-(RESTART_LOG_SD**2) / 2, RESTART_LOG_SD)
        if failed is None:
            return RigRun("pass", RUN_MINUTES)
        minutes = failed / 60 + RESTART_MINUTES * float(np.exp(restart))
        return RigRun("crash", minutes, failed_after_s=float(failed))

    def _failure_second(self, hardness: float) -> int | None:
        own = first_failure(self.physics, hardness, _SECONDS, self.draws)
        chance, second = self.draws.random(), int(self.draws.integers(1, _SECONDS + 1))
        if chance >= self.stray:
            return own
        return second if own is None else min(own, second)

    def pass_probability(self, value: float) -> float:
        """Probability that a nominal run passes; values off the grid and the range too."""
        held = hold_probability(self.physics, self.knob.hardness(value), _SECONDS)
        return (1 - self.stray) * held

    def edge(self, target: float = TARGET) -> float:
        """The value, on no grid, at which a nominal run passes with the probability `target`.

        Raises:
            InputError: stray crashes alone make the target impossible.
        """
        if target >= 1 - self.stray:
            raise InputError(f"target = {target:g}: expected under {1 - self.stray:g}")
        easy, hard = -1.0, 1.0
        while self._at(easy) < target:
            easy *= 2
        while self._at(hard) >= target:
            hard *= 2
        while hard - easy > 1e-6:
            middle = (easy + hard) / 2
            easy, hard = (middle, hard) if self._at(middle) >= target else (easy, middle)
        return self.knob.at_hardness(easy)

    def best_sound(self, target: float = TARGET) -> float | None:
        """The hardest value of the knob that passes with at least `target`; None where none."""
        values = [value for value in self.knob.values if not isinstance(value, str)]
        failing = bisect_left(values, True, key=lambda v: self.pass_probability(v) < target)
        return values[failing - 1] if failing else None

    def _at(self, hardness: float) -> float:
        return self.pass_probability(self.knob.at_hardness(hardness))
