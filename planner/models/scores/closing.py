"""What would close a gap: a rise of one sub-score, or steps of one knob."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import ceil, floor, log

from planner.domain.knob import Knob, Setting, Value
from planner.gate import gate_of
from planner.history import History
from planner.models.scores.answering import Answering, Holding
from planner.models.scores.composite import Composite
from planner.models.scores.trying import in_time, reaches
from planner.trade.scores.combined import needed_part, total

_FARTHEST = 1000
"""Steps beyond which a knob does not close a gap."""


@dataclass(frozen=True, slots=True)
class PartGap:
    """What one sub-score alone would have to come to."""

    name: str
    now: float
    needed: float | None
    """None: it cannot close the gap alone."""


@dataclass(frozen=True, slots=True)
class KnobGap:
    """How many steps of one knob close the gap, by the line through the scores so far."""

    knob: str
    steps: float
    """Towards harder; negative: towards easier."""
    interval: tuple[float, float]
    """90 % interval of the steps."""
    value: Value | None
    """The first value of the knob that reaches it; None: it lies beyond the knob's range."""
    permitted: bool
    """Whether that value may be proposed, the other knobs as they are."""
    beats: float
    """Chance that a run there which holds comes to the score."""
    pass_probability: float | None
    """That a nominal run holds there; None: no edge is worked out for it."""
    minutes: float | None
    """Expected minutes of such a run, all in."""
    tries: int | None
    """Such runs that the minutes left are enough for; None: no bound, or no chance is known."""
    in_time: float | None
    """Chance that one of those tries holds and comes to the score; None: there is none."""


def part_gaps(
    composite: Composite, parts: Mapping[str, float], ratio: float
) -> tuple[PartGap, ...]:
    """Each sub-score's own way to a total that is `ratio` of what the parts give now."""
    rule, weights = composite.rule, composite.weights
    goal = ratio * total(rule, weights, parts)
    return tuple(
        PartGap(name, parts[name], needed_part(rule, weights, parts, name, goal))
        for name in weights
    )


def knob_gaps(
    history: History,
    holding: Callable[[Setting], Holding | None],
    setting: Setting,
    response: Answering,
    score: float,
    minutes_left: float | None = None,
) -> tuple[KnobGap, ...]:
    """Each knob's own way from a setting to a score, the shortest first.

    Knobs whose slope is not told from none are left out.
    """
    found = []
    ratio = score / response.score()
    for slope in response.slopes:
        steps, interval = response.steps_to(slope, ratio)
        if not slope.known or abs(steps) > _FARTHEST:
            continue
        knob = history.definition.knobs[slope.knob]
        value, whole = _reached(knob, setting, steps)
        there = None if value is None else {**setting, knob.name: value}
        permitted = there is not None and gate_of(history).permits(there)
        level = response.after(slope.knob, whole)
        held = holding(there) if there is not None and permitted else None
        tries = None
        if held is not None and minutes_left is not None:
            tries = floor(minutes_left / held.minutes)
        found.append(
            KnobGap(
                knob=slope.knob,
                steps=steps,
                interval=interval,
                value=value,
                permitted=permitted,
                beats=reaches(level, log(score)),
                pass_probability=None if held is None else held.chance,
                minutes=None if held is None else held.minutes,
                tries=tries,
                in_time=None if not (held and tries) else in_time(held, level, log(score), tries),
            )
        )
    return tuple(sorted(found, key=lambda gap: abs(gap.steps)))


def _reached(knob: Knob, setting: Setting, steps: float) -> tuple[Value | None, float]:
    """The first value at least so many steps away, and how many steps it is."""
    start = knob.hardness(float(setting[knob.name]))
    place = ceil(start + steps - 1e-9) if steps > 0 else floor(start + steps + 1e-9)
    inside = 0 <= place < len(knob.values)
    return knob.values[place] if inside else None, place - start
