"""The bench: runs that cost minutes, crash for one part's sake and score."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import exp, log
from typing import Any

import numpy as np

from planner.domain.knob import Knob, Setting, Value, Where
from planner.errors import InputError
from planner.rigs.evening.parts import Part, Standing
from planner.rigs.evening.score import Scoring
from planner.rigs.normal import log_cdf
from planner.rigs.physics import Physics, first_failure, hold_probability
from planner.rigs.result import RigRun

RESTART_LOG_SD = 0.3
WARMING_MINUTES = 60.0
"""The room comes within 1/e of its warmest in so many minutes."""


@dataclass(frozen=True, slots=True)
class Bench:
    """What the bench costs and how it warms."""

    run_minutes: float = 3.0
    change_minutes: float = 0.3
    restart_minutes: float = 2.0
    no_start_minutes: float = 8.0
    screen_minutes: float = 0.0
    """Length of a short run that loads one group alone; 0: there are none."""
    in_turn: bool = False
    """Whether a nominal run loads group after group, as parts of a score do; else all at once."""
    room: float = 21.0
    warms: float = 2.0
    """Kelvin by which the room warms in a long evening."""
    score_noise: float = 0.002
    """Run-to-run standard deviation of each sub-score, as a share."""
    stray: float = 0.015
    """Share of nominal runs that crash without the setting's doing."""


@dataclass(frozen=True, slots=True)
class Starting:
    """When a part fails to start: slack in the first second so far gone, in natural steps."""

    gap: float
    width: float

    def chance(self, standing: Standing) -> float:
        """Probability to start."""
        return float(exp(log_cdf(np.array([(standing.means[0] + self.gap) / self.width]))[0]))


@dataclass
class EveningRig:
    """A bench with many knobs."""

    knobs: Mapping[str, Knob]
    groups: tuple[str, ...]
    parts: tuple[Part, ...]
    starting: Mapping[str, Starting]
    """For each group that can fail to start."""
    scoring: Scoring
    bench: Bench
    seed: int
    draws: np.random.Generator
    minutes: float = 0.0
    """Bench minutes spent so far."""
    cause: str = ""
    """The knob whose part failed in the last run; empty: none, or a stray crash."""
    _known: dict[tuple[object, ...], tuple[Standing, float, float]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self._held = self.stock

    @property
    def stock(self) -> Setting:
        """Every knob at stock."""
        return {name: knob.stock for name, knob in self.knobs.items()}

    @property
    def room(self) -> float:
        """Temperature of the room now, in °C."""
        return self.bench.room + self.bench.warms * (1 - exp(-self.minutes / WARMING_MINUTES))

    @property
    def definition(self) -> dict[str, Any]:
        """The tables of `study.toml` for this rig."""
        names = list(self.scoring.bases)
        loop = {"name": "course", "minutes": self.bench.run_minutes, "scored": True}
        return {
            "study": {"name": f"rig {self.seed}", "aim": "peak", "seed": self.seed},
            "rig": {"reboot_minutes": self.bench.restart_minutes},
            "group": [{"name": name} for name in self.groups],
            "knob": [_table(knob) for knob in self.knobs.values()],
            "reading": [{"name": "room", "unit": "°C"}],
            "workload": [{**loop, "subscores": names}, *self._screens],
        }

    @property
    def _screens(self) -> list[dict[str, Any]]:
        minutes = self.bench.screen_minutes
        names = self.groups if minutes else ()
        return [{"name": f"{g} screen", "minutes": minutes, "screens": [g]} for g in names]

    def run(self, settings: Mapping[str, Value], group: str = "") -> RigRun:
        """One nominal run; `group`: a screen of that group instead.

        Raises:
            InputError: not values of the knobs.
        """
        for name, knob in self.knobs.items():
            if not knob.allows(settings[name]):
                expected = knob.describe_values()
                raise InputError(f"{name} = {settings[name]}: expected {expected}")
        room = self.room
        dialling = self._dialling(settings)
        outcome, seconds = self._attempt(settings, room, group)
        length = self.bench.screen_minutes if group else self.bench.run_minutes
        minutes = dialling + self._after(outcome, seconds, length)
        self.minutes += minutes
        self._held = self._held_after(outcome, settings)
        readings = {"room": round(room, 1)}
        if outcome != "pass":
            failed = None if outcome == "no-start" else float(seconds)
            return RigRun(outcome, minutes, failed_after_s=failed, readings=readings)
        if group:
            return RigRun(outcome, minutes, readings=readings)
        subscores = self._noisy(self.scoring.subscores(settings, room))
        score = round(self.scoring.composite(subscores), 2)
        return RigRun(outcome, minutes, score=score, subscores=subscores, readings=readings)

    def pass_probability(self, settings: Mapping[str, Value], room: float | None = None) -> float:
        """Probability that a nominal run starts and passes, in a room at so many °C or now."""
        where = self.room if room is None else room
        held = 1 - self.bench.stray
        for part in self.parts:
            held *= self.holds(part, settings, where)
        return held

    def holds(self, part: Part, settings: Mapping[str, Value], room: float) -> float:
        """Probability that one part starts and holds through a nominal run."""
        _, started, passed = self._at(part, settings, room)
        return started * passed

    def _at(
        self, part: Part, settings: Mapping[str, Value], room: float
    ) -> tuple[Standing, float, float]:
        key = (id(part), round(room, 1), *(settings[name] for name in part.knobs))
        if key not in self._known:
            standing = part.standing(settings, round(room, 1), self._seconds)
            begins = self.starting.get(part.group)
            started = 1.0 if begins is None else begins.chance(standing)
            self._known[key] = standing, started, self._passes(part, standing)
        return self._known[key]

    def _passes(self, part: Part, standing: Physics) -> float:
        return hold_probability(standing, 0.0, self._loaded(part)[1])

    def _loaded(self, part: Part) -> tuple[int, int]:
        """From which second of a nominal run a part is loaded, and for how many."""
        if not self.bench.in_turn:
            return 0, self._seconds
        each = self._seconds // len(self.groups)
        return self.groups.index(part.group) * each, each

    @property
    def _seconds(self) -> int:
        return round(self.bench.run_minutes * 60)

    def _attempt(self, settings: Mapping[str, Value], room: float, group: str) -> tuple[str, int]:
        """The outcome, and the second in which it failed; sets `cause`."""
        lasts = round(self.bench.screen_minutes * 60) if group else self._seconds
        self.cause, first = "", lasts + 1
        for part in self.parts:
            standing, started, _ = self._at(part, settings, room)
            if self.draws.random() > started:
                self.cause = part.knobs[0]
                return "no-start", 0
            if group not in ("", part.group):
                continue  # it idles
            begins, loaded = (0, lasts) if group else self._loaded(part)
            failed = first_failure(standing, 0.0, loaded, self.draws)
            if failed is not None and begins + failed < first:
                self.cause, first = part.knobs[0], begins + failed
        stray = int(self.draws.integers(1, self._seconds + 1))
        if self.draws.random() < self.bench.stray and stray < first:
            self.cause, first = "", stray
        return ("pass", 0) if first > lasts else ("crash", first)

    def _dialling(self, settings: Mapping[str, Value]) -> float:
        changed = [knob for name, knob in self.knobs.items() if settings[name] != self._held[name]]
        restart = any(knob.where is Where.FIRMWARE for knob in changed)
        return self.bench.change_minutes * len(changed) + self.bench.restart_minutes * restart

    def _after(self, outcome: str, seconds: int, length: float) -> float:
        """Minutes of the run and of what follows; restarts differ, and don't tell the cause."""
        if outcome == "pass":
            return length
        noise = exp(self.draws.normal(-(RESTART_LOG_SD**2) / 2, RESTART_LOG_SD))
        if outcome == "no-start":
            return self.bench.no_start_minutes * noise
        return seconds / 60 + self.bench.restart_minutes * noise

    def _held_after(self, outcome: str, settings: Mapping[str, Value]) -> Setting:
        if outcome == "no-start":
            return self.stock
        if outcome == "pass":
            return dict(settings)
        return {
            name: knob.stock if knob.where is Where.LIVE else settings[name]
            for name, knob in self.knobs.items()
        }

    def _noisy(self, subscores: Mapping[str, float]) -> dict[str, float]:
        sd = self.bench.score_noise
        return {n: round(v * exp(self.draws.normal(0, sd)), 2) for n, v in subscores.items()}

    def log_gain(self, settings: Mapping[str, Value]) -> float:
        """Log of the noise-free score against stock's, in the room as it was at first."""
        room = self.bench.room
        return log(self.scoring.score(settings, room) / self.scoring.score(self.stock, room))


def _table(knob: Knob) -> dict[str, Any]:
    grid = knob.grid
    assert grid is not None
    table = {"name": knob.name, "unit": knob.unit, "group": knob.group, "low": grid.low}
    table |= {"high": grid.high, "step": grid.step, "stock": knob.stock}
    table |= {"harder": knob.harder.value, "where": knob.where.value}
    table |= {"change_minutes": knob.change_minutes, "supports": list(knob.supports)}
    everyday = knob.ceilings.everyday
    return table if everyday is None else table | {"everyday": everyday}
