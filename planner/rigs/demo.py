"""A made-up rig to play on: a core clock, its voltage, one memory timing, a room that warms.

The core follows `alpha_power`, at the voltage set and the temperature that it brings; the memory
holds down to a delay, and well below that it doesn't start at all. Scores are powers of the clock
and of the delay, with some noise. All figures are invented.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from planner.domain.definition import Definition
from planner.domain.dialling import after_run, dial_minutes, recovery_minutes, run_minutes_spent
from planner.domain.knob import Setting, Value
from planner.domain.outcome import Outcome
from planner.domain.parse import parse_text
from planner.errors import InputError
from planner.rigs.alpha_power import AlphaPower
from planner.rigs.demo_definition import DEFINITION
from planner.rigs.physics import Physics, first_failure, hold_probability
from planner.rigs.result import RigRun
from planner.rigs.slack import Slack

NOMINAL_ROOM = 22.0
"""°C: the truth is told for it."""
STRAY = 0.015
_COOL, _WARM, _WARMING_MINUTES = 19.5, 24.5, 150.0
_NO_START_STEPS = 3.0
"""Memory this far past its edge does not train."""
_SCORE_NOISE = 0.004
_HOTTER = 0.25
"""By how much the hottest place stands above the mean, as a share of the rise."""


@dataclass
class DemoRig:
    """The bench at Marrow Point; the same seed gives the same evening for the same settings."""

    seed: int = 0
    definition: Definition = field(default_factory=lambda: parse_text(DEFINITION))
    spent: float = 0.0
    """Bench minutes so far; the room warms with them."""

    def __post_init__(self) -> None:
        self._draws = np.random.default_rng(self.seed)
        self._held: Setting = self.definition.stock

    @property
    def room(self) -> float:
        """°C now."""
        warmed = 1 - float(np.exp(-self.spent / _WARMING_MINUTES))
        return _COOL + (_WARM - _COOL) * warmed

    def run(self, settings: Mapping[str, Value]) -> RigRun:
        """One nominal run; knobs not named stay as the machine holds them.

        Raises:
            InputError: an unknown knob, or not a value of it.
        """
        setting = {**self._held, **self._checked(settings)}
        outcome, failed_after_s = self._outcome(setting)
        room, hot = self.room, self._hotspot(setting, failed_after_s)
        minutes = self._minutes(setting, outcome, failed_after_s)
        self.spent += minutes
        self._held = after_run(self.definition, outcome, setting)
        readings = {"room": round(room, 1)}
        if outcome is not Outcome.NO_START:
            readings["hotspot"] = round(hot + float(self._draws.normal(0, 0.4)), 1)
        subscores = self._subscores(setting) if outcome is Outcome.PASS else {}
        weights = {n: w or 1.0 for n, w in self.definition.workload.subscores}
        score = sum(weights[name] * value for name, value in subscores.items())
        return RigRun(
            outcome=outcome.value,
            minutes=round(minutes, 2),
            failed_after_s=failed_after_s,
            score=round(score, 1) if subscores else None,
            subscores=subscores,
            readings=readings,
        )

    def pass_probability(self, settings: Mapping[str, Value], room: float = NOMINAL_ROOM) -> float:
        """Probability that a nominal run passes in a room of `room` °C; knobs not named at stock.

        Raises:
            InputError: an unknown knob, or not a value of it.
        """
        setting = {**self.definition.stock, **self._checked(settings)}
        held = 1.0
        for physics, hardness in self._parts(setting, room):
            held *= hold_probability(physics, hardness, self._seconds)
        return (1 - STRAY) * held

    @property
    def _seconds(self) -> int:
        return round(self.definition.workload.minutes * 60)

    def _checked(self, settings: Mapping[str, Value]) -> Mapping[str, Value]:
        for name, value in settings.items():
            knob = self.definition.knobs.get(name)
            if knob is None or not knob.allows(value):
                expected = knob.describe_values() if knob else ", ".join(self.definition.knobs)
                raise InputError(f"{name} = {value}: expected {expected}")
        return settings

    def _outcome(self, setting: Setting) -> tuple[Outcome, float | None]:
        """What the run comes to, and the second in which it failed."""
        failures = []
        for physics, hardness in self._parts(setting, self.room):
            if isinstance(physics, Slack) and hardness - physics.zero > _NO_START_STEPS:
                return Outcome.NO_START, None
            failures.append(first_failure(physics, hardness, self._seconds, self._draws))
        if self._draws.random() < STRAY:
            failures.append(int(self._draws.integers(1, self._seconds + 1)))
        seconds = [second for second in failures if second is not None]
        return (Outcome.CRASH, float(min(seconds))) if seconds else (Outcome.PASS, None)

    def _minutes(self, setting: Setting, outcome: Outcome, failed_after_s: float | None) -> float:
        """All in; no two restarts take the same time."""
        dialling = dial_minutes(self.definition, self._held, setting)
        spent = run_minutes_spent(outcome, self.definition.workload.minutes, failed_after_s)
        restart = recovery_minutes(self.definition, outcome)
        return dialling + spent + restart * float(np.exp(self._draws.normal(-0.03, 0.25)))

    def _parts(self, setting: Setting, room: float) -> list[tuple[Physics, float]]:
        """What each part of the machine can take, and how hard this setting is on it."""
        volts = _number(setting, "core_voltage") / 100
        clock = self.definition.knobs["core_clock"]
        delay = self.definition.knobs["read_delay"]
        core = AlphaPower(
            scale=7700.0,
            volts=1.22 * volts,
            threshold_volts=0.31,
            exponent=1.32,
            at_once=48.0 * volts**2,
            rise=18.0 * volts**2,
            tau_s=55.0,
            low=clock.at_hardness(0),
            step=25.0,
            noise=0.5,
            spread=0.3,
            room=room,
        )
        memory = Slack(delay.hardness(31.4), noise=0.25, spread=0.15)
        return [
            (core, clock.hardness(_number(setting, "core_clock"))),
            (memory, delay.hardness(_number(setting, "read_delay"))),
        ]

    def _hotspot(self, setting: Setting, failed_after_s: float | None) -> float:
        """°C at the end of the run, at the hottest place."""
        core = self._parts(setting, self.room)[0][0]
        assert isinstance(core, AlphaPower)
        seconds = np.array([self._seconds if failed_after_s is None else failed_after_s])
        mean = float(core.celsius(_number(setting, "core_clock"), seconds)[0])
        return mean + _HOTTER * (mean - self.room)

    def _subscores(self, setting: Setting) -> dict[str, float]:
        clock = _number(setting, "core_clock") / 4800
        delay = _number(setting, "read_delay") / 40
        means = {
            "shade": 318.0 * clock**0.93,
            "pack": 1466.0 * clock**0.38 * delay**-0.34,
            "solve": 20.6 * clock**0.71 * delay**-0.12,
        }
        noise = self._draws.normal(1.0, _SCORE_NOISE, len(means))
        return {n: round(m * float(e), 2) for (n, m), e in zip(means.items(), noise, strict=True)}


def _number(setting: Setting, name: str) -> float:
    value = setting[name]
    assert not isinstance(value, str), name
    return value
