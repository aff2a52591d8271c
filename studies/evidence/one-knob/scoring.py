"""One competitor on one rig, judged by the rig's own truth."""

from __future__ import annotations

from dataclasses import dataclass

from bench import Answer, Bench

from planner.rigs.one_knob import TARGET, OneKnobRig


@dataclass(frozen=True)
class Truth:
    """What no competitor is told; places and edge in steps from the easiest value."""

    edge: float
    best: int | None
    chances: tuple[float, ...]
    """True chance of a nominal run at each value."""

    @classmethod
    def of(cls, rig: OneKnobRig) -> Truth:
        values, best = rig.knob.values, rig.best_sound()
        chances = tuple(rig.pass_probability(float(value)) for value in values)
        place = None if best is None else values.index(best)
        return cls(rig.knob.hardness(rig.edge()), place, chances)


@dataclass(frozen=True)
class Score:
    """What an evening came to."""

    minutes: float
    runs: int
    crashes: int
    sound: bool
    sharp: bool
    """At most one tolerance below the best sound value."""
    borne_out: bool
    """Something passed at or above the answer, or the answer is that nothing holds."""
    low: bool | None = None
    """The true edge lies below the interval; None where none is given."""
    high: bool | None = None
    width: float | None = None
    """Of the interval, in tolerances."""


def score(bench: Bench, answer: Answer, truth: Truth) -> Score:
    """Sound: the value truly passes at the target. Nothing named is right where nothing is."""
    if answer.index is None:
        sound, sharp, borne_out = True, truth.best is None, True
    else:
        sound = truth.chances[answer.index] >= TARGET
        best = -1 if truth.best is None else truth.best
        sharp = best - answer.index <= bench.tolerance
        borne_out = bench.borne_out(answer.index)
    low = high = width = None
    if answer.interval is not None:
        low, high = truth.edge < answer.interval[0], truth.edge > answer.interval[1]
        width = (answer.interval[1] - answer.interval[0]) / bench.tolerance
    return Score(
        bench.minutes, len(bench.log), bench.crashes, sound, sharp, borne_out, low, high, width
    )
