"""What would close a gap: a rise of one sub-score, or steps of one knob."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil, floor, inf, log

from planner.domain.knob import Knob, Setting, Value
from planner.gate import gate_of
from planner.history import History
from planner.models.edge_search import EdgeSearch
from planner.models.scores.composite import Composite
from planner.models.scores.response import Response, Slope
from planner.trade.scores.combined import needed_part, total
from planner.trade.student import t_cdf

_FARTHEST = 1000
"""Steps beyond which a knob does not close a gap."""
_TAIL = 1.645
"""Standard errors to either end of a 90 % interval."""


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


def steps_to_close(ratio: float, slope: Slope) -> tuple[float, tuple[float, float]]:
    """Steps of a knob that multiply the score by `ratio`, and their 90 % interval.

    The interval has no end where the slope may be nought.
    """
    wanted = log(ratio)
    steps = wanted / slope.per_step if slope.per_step else inf
    ends = (slope.per_step - _TAIL * slope.error, slope.per_step + _TAIL * slope.error)
    if ends[0] <= 0 <= ends[1]:
        return steps, (-inf, inf)
    low, high = sorted(wanted / end for end in ends)
    return steps, (low, high)


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
    search: EdgeSearch | None,
    setting: Setting,
    response: Response,
    score: float,
) -> tuple[KnobGap, ...]:
    """Each knob's own way from a setting to a score, the shortest first.

    Knobs whose slope is not told from none are left out. `search`: of the study's knob, where the
    study is after its edge.
    """
    gate, found = gate_of(history), []
    for slope in response.slopes:
        steps, interval = steps_to_close(score / response.score(), slope)
        if not slope.known or abs(steps) > _FARTHEST:
            continue
        knob = history.definition.knobs[slope.knob]
        value, whole = _reached(knob, setting, steps)
        level, error = response.after(slope.knob, whole)
        there = None if value is None else {**setting, knob.name: value}
        edge = (
            search if there is not None and search is not None and _serves(search, there) else None
        )
        at = float(value) if edge is not None and value is not None else 0.0
        found.append(
            KnobGap(
                knob=slope.knob,
                steps=steps,
                interval=interval,
                value=value,
                permitted=there is not None and gate.permits(there),
                beats=_reaches(level, error, response.freedom, log(score)),
                pass_probability=None if edge is None else edge.chance(at),
                minutes=None if edge is None else edge.minutes(at),
            )
        )
    return tuple(sorted(found, key=lambda gap: abs(gap.steps)))


def _reached(knob: Knob, setting: Setting, steps: float) -> tuple[Value | None, float]:
    """The first value at least so many steps away, and how many steps it is."""
    start = knob.hardness(float(setting[knob.name]))
    place = ceil(start + steps - 1e-9) if steps > 0 else floor(start + steps + 1e-9)
    inside = 0 <= place < len(knob.values)
    return knob.values[place] if inside else None, place - start


def _serves(search: EdgeSearch, setting: Setting) -> bool:
    """Whether the search's edge holds at a setting: only its own knob differs."""
    own = search.knob.name
    return all(search.base.get(name) == value for name, value in setting.items() if name != own)


def _reaches(level: float, error: float, freedom: int, goal: float) -> float:
    if not error:
        return float(level >= goal)
    return t_cdf((level - goal) / error, freedom)
