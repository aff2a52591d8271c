"""The smaller nouns of a study: what is run, read, grouped, derived and ruled."""

from dataclasses import dataclass
from enum import StrEnum
from typing import Literal

from planner.domain.ceilings import NO_CEILINGS, Ceilings
from planner.domain.combining import Combining
from planner.domain.expression import Inequality
from planner.domain.memory import Standard

LAPSE = 0.015
"""Share of nominal runs that crash for reasons that the setting did not cause."""


class Aim(StrEnum):
    """What a study is after."""

    EDGE = "edge"
    """Where one knob stops holding."""
    FRONTIER = "frontier"
    """That edge along a second knob."""
    PEAK = "peak"
    """The best claimable score in the minutes left."""
    EVERYDAY = "everyday"
    """The fastest setting that keeps holding."""
    TRIM = "trim"
    """The least voltage that holds given clocks."""

    @property
    def one_knob(self) -> bool:
        """Whether the edge of one knob is searched; else all knobs are turned at once."""
        return self in (Aim.EDGE, Aim.FRONTIER)


@dataclass(frozen=True, slots=True)
class Goal:
    """The `[study]` table: what the study is after and how far it goes."""

    name: str = "study"
    aim: Aim = Aim.EDGE
    knob: str = ""
    """The knob whose edge is searched."""
    along: str = ""
    """The second knob of a frontier."""
    target: float = 0.9
    """Probability with which a nominal run must pass at a sound value."""
    minutes: float | None = None
    """Bench minutes available; None: no bound."""
    seed: int = 0
    boldness: float = 0.5
    """0 cautious to 1 bold."""
    trust_suspicion: float = 0.7
    """How often the person's suspicion names the right part."""
    strategy: str = "bayes"
    """Which strategy searches."""
    workload: str = ""
    """What is run to judge a setting; the first one listed if not given."""
    tolerance: float | None = None
    """How far below the edge is near enough, in the knob's unit; None: a step or 1/40 range."""
    max_changes: int | None = None
    """How many values a proposal of a search over many knobs may change; None: what pays."""
    hours_between_failures: float | None = None
    """What a setting for every day must hold between failures of its own; None: `target`."""
    warmest_room: float | None = None
    """The room that it must hold in, in °C; None: the warmest read."""
    confidence: float | None = None
    """Confidence of the claim that confirming runs must reach; None: none are owed."""
    take_over_minutes: float | None = None
    """Age at which one bench may take over what another was asked for; None: never."""
    cold_boots: int = 0
    """Cold boots that the confirming passes must be spread over."""


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the rig, with its price if it is told."""

    name: str
    price: float | None = None


@dataclass(frozen=True, slots=True)
class Rig:
    """The `[rig]` table."""

    parts: tuple[Part, ...] = ()
    reboot_minutes: float = 2.0
    """Minutes for one restart, after a crash too."""
    slots: tuple[str, ...] = ()
    """Names of saved firmware slots to fall back to."""
    memory: Standard | None = None
    """The standard of its memory modules; None: not told."""
    cooling: str = ""
    """How it is cooled, in the person's word."""
    cost_brackets: tuple[tuple[str, float], ...] = ()
    """Names and ceilings of the brackets that the total price falls into."""
    currency: str = ""
    """Shown behind prices."""


@dataclass(frozen=True, slots=True)
class Group:
    """Knobs that belong together, as processor core or memory."""

    name: str
    restart_minutes: float | None = None
    """Restart that a changed firmware knob of this group takes, training included."""
    crash_price: float = 0.0
    """What a crash of this group costs the person beyond its minutes, in minutes."""


@dataclass(frozen=True, slots=True)
class Derived:
    """A product or sum of knobs, with ceilings of its own."""

    name: str
    unit: str
    operation: Literal["product", "sum"]
    members: tuple[str, ...]
    factors: tuple[float, ...]
    """Converts each member into a unit in which the operation gives `unit`."""
    ceilings: Ceilings = NO_CEILINGS


class RuleKind(StrEnum):
    """How binding a rule between knobs is."""

    NOTE = "note"
    """Shown, not enforced: tuned sets break textbook sums."""
    HARD = "hard"
    """No proposal breaks it."""


@dataclass(frozen=True, slots=True)
class Rule:
    """An inequality between knobs."""

    name: str
    holds: Inequality
    kind: RuleKind = RuleKind.NOTE


class Role(StrEnum):
    """What a reading is to the planner, beyond its name."""

    NONE = ""
    ROOM = "room"
    """Temperature of the air that the bench stands in and is cooled by, in °C."""
    HUMIDITY = "humidity"
    """Relative humidity of that air, in %."""
    WALL = "wall"
    """Power of the whole bench at the wall socket, in W."""


@dataclass(frozen=True, slots=True)
class Reading:
    """A named measurement; past its stop, the region that caused it is closed."""

    name: str
    unit: str = ""
    source: str = ""
    stop: float | None = None
    role: Role = Role.NONE


@dataclass(frozen=True, slots=True)
class Workload:
    """What is run to see whether a setting holds, and what it scores."""

    name: str
    minutes: float = 5.0
    """Length of a nominal run."""
    settle_minutes: float = 0.0
    """Until heat has settled; shorter passes say nothing about longer runs."""
    screens: tuple[str, ...] = ()
    """Groups whose edges a short run of it finds."""
    subscores: tuple[tuple[str, float | None], ...] = ()
    """Names of the parts of the score, with weights if they are told."""
    scored: bool = False
    combine: Combining | None = None
    """How the score is made of the sub-scores; None: not told."""
    beat: tuple[tuple[str, float], ...] = ()
    """Names and scores to beat."""
    version: str = ""
    """Of the program that is run."""
    timed_outside: bool = False
    """Whether its score is timed by a clock that no knob of this machine can skew."""
