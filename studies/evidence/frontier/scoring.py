"""An evening's frontier, judged by the rig's own truth at each of the nine voltages."""

from __future__ import annotations

from dataclasses import dataclass

from planner.rigs.frontier import FrontierRig
from planner.rigs.one_knob import TARGET


@dataclass(frozen=True)
class Answer:
    """What a competitor says of one voltage."""

    volts: float
    kept: float | None
    """The clock to keep; None: none holds."""
    interval: tuple[float, float] | None = None
    """Lower and upper end of the 90 % interval of the edge, in the clock's unit."""


@dataclass(frozen=True)
class Score:
    """What an evening came to; shares are of the nine voltages."""

    minutes: float
    runs: int
    crashes: int
    sound: float
    """The clock kept truly passes at the target."""
    both: float
    """Sound, and at most one step under the best sound clock."""
    low: float | None
    """The true edge lies under the interval; None where no interval is given."""
    high: float | None
    width: float | None
    """Mean width of the intervals, in steps."""


def nine(rig: FrontierRig) -> tuple[float, ...]:
    """The voltages of the frontier, evenly from end to end."""
    grid = rig.volts.grid
    assert grid is not None
    return grid.values()[:: (grid.size - 1) // 8]


def judge(
    rig: FrontierRig, answers: list[Answer], minutes: float, runs: int, crashes: int
) -> Score:
    """The score of an evening; the answers must be those to the nine voltages."""
    assert sorted(a.volts for a in answers) == sorted(nine(rig)), "nine voltages, each once"
    judged = [_judge(rig, answer) for answer in answers]
    count = len(judged)
    step = rig.clock.grid.step if rig.clock.grid else 1.0
    spans = [(a.interval, rig.at(a.volts).edge()) for a in answers if a.interval is not None]
    whole = len(spans) == count
    return Score(
        minutes,
        runs,
        crashes,
        sum(sound for sound, _ in judged) / count,
        sum(sound and sharp for sound, sharp in judged) / count,
        sum(edge < ends[0] for ends, edge in spans) / count if whole else None,
        sum(edge > ends[1] for ends, edge in spans) / count if whole else None,
        sum(ends[1] - ends[0] for ends, _ in spans) / count / step if whole else None,
    )


def _judge(rig: FrontierRig, answer: Answer) -> tuple[bool, bool]:
    """Whether it is sound, and whether it is sharp."""
    bench = rig.at(answer.volts)
    best = bench.best_sound()
    if answer.kept is None:
        return True, best is None
    sound = bench.pass_probability(answer.kept) >= TARGET
    step = rig.clock.grid.step if rig.clock.grid else 1.0
    return sound, best is None or best - answer.kept <= step * (1 + 1e-9)
