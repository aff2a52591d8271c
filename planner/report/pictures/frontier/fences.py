"""Ceilings over two knobs: lines, and the regions above them."""

from bisect import bisect_left
from collections.abc import Callable
from dataclasses import dataclass
from math import inf, isclose, isfinite

from planner.domain.ceilings import Ceilings
from planner.domain.definition import Definition
from planner.domain.knob import Setting
from planner.domain.quantity import with_unit
from planner.report.pictures.ceilings import Limit, told
from planner.report.pictures.frontier.panel import Panel

_SAMPLES = 41
"""Places at which a curved ceiling is worked out."""
_HALVINGS = 24

Place = tuple[float, float]
"""Values of the second knob and of the searched one."""


@dataclass(frozen=True, slots=True)
class Fence:
    """A ceiling as it stands in the picture."""

    limit: Limit
    of: str
    """The knob or derived value that it belongs to."""
    shown: str
    """Its value in words."""
    places: tuple[Place, ...]
    """A line through these, from left to right or, upright, from below to above."""

    @property
    def upright(self) -> bool:
        """Whether it bounds the second knob alone."""
        return self.places[0][0] == self.places[-1][0]

    def height(self, x: float) -> float:
        """From which height on it forbids, just left of a place; infinite where it does not."""
        if self.upright:
            return inf if x <= self.places[0][0] else -inf
        at = min(max(bisect_left(self.places, (x, -inf)), 1), len(self.places) - 1)
        (left, start), (right, end) = self.places[at - 1 : at + 1]
        if not isfinite(start) or not isfinite(end):
            return start if x <= left else end
        return start + (end - start) * (x - left) / (right - left)


@dataclass(frozen=True, slots=True)
class Fences:
    """Every ceiling of the two knobs, and of what is derived from them."""

    lines: tuple[Fence, ...]
    """Those that can be seen."""
    risky: tuple[Place, ...]
    """From which height on it is the person's own risk, from left to right; empty: nowhere."""
    shut: tuple[Place, ...]
    """The same for the last ceiling, which proposals never pass."""
    stopped: tuple[Place, ...]
    """The same for a hard stop, past which no run is drawn."""
    guards: tuple[str, ...]
    """The knobs and derived values with a risky region in the picture."""


def fences_of(definition: Definition, base: Setting, panel: Panel) -> Fences:
    """The ceilings as they stand in a panel, the other knobs as in `base`."""
    found = [
        fence
        for name, ceilings in definition.guarded.items()
        for limit, value in told(ceilings)
        if (fence := _fence(definition, base, panel, name, limit, value)) is not None
    ]
    risky = [fence for fence in found if fence.limit is Limit.EVERYDAY]
    stops = [fence for fence in found if fence.limit is Limit.HARD_STOP]
    last = {fence.of: fence for fence in found}  # ceilings come from the lowest on
    return Fences(
        lines=tuple(fence for fence in found if _seen(fence, panel)),
        risky=_region(risky, panel),
        shut=_region(list(last.values()), panel),
        stopped=_region(stops, panel),
        guards=tuple(fence.of for fence in risky if _region([fence], panel)),
    )


def is_past_stop(ceilings: Ceilings, value: float) -> bool:
    """Whether a value lies past its hard stop."""
    stop = ceilings.hard_stop
    return stop is not None and value > stop and not isclose(value, stop, rel_tol=1e-12)


def _fence(
    definition: Definition, base: Setting, panel: Panel, name: str, limit: Limit, value: float
) -> Fence | None:
    (left, right), (low, high) = panel.x_shown, panel.y_shown
    noun = definition.knobs.get(name) or definition.derived[name]
    words = with_unit(value, noun.unit) if isfinite(value) else "not filled in"
    if name == panel.x.name:
        return Fence(limit, name, words, ((value, low), (value, high)))
    if name == panel.y.name:
        return Fence(limit, name, words, ((left, value), (right, value)))

    def derived(x: float, y: float) -> float:
        setting = {**base, panel.x.name: x, panel.y.name: y}
        return definition.numbers(setting).get(name, -inf)

    along, up = derived(left, low) != derived(right, low), derived(left, low) != derived(left, high)
    if along and not up:
        place = _highest(lambda x: derived(x, low), left, right, value)
        return Fence(limit, name, words, ((place, low), (place, high))) if isfinite(place) else None
    if not up:
        return None  # of other knobs
    step = (right - left) / (_SAMPLES - 1) if along else right - left
    xs = [left + i * step for i in range(_SAMPLES if along else 2)]
    places = tuple((x, _highest(lambda y, x=x: derived(x, y), low, high, value)) for x in xs)  # type: ignore[misc]
    return Fence(limit, name, words, places)


def _highest(rising: Callable[[float], float], low: float, high: float, ceiling: float) -> float:
    """The highest place under a ceiling; infinite where all or none is."""
    if rising(low) > ceiling:
        return -inf
    if rising(high) <= ceiling:
        return inf
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if rising(middle) <= ceiling else (low, middle)
    return low


def _seen(fence: Fence, panel: Panel) -> bool:
    (left, right), (low, high) = panel.x_shown, panel.y_shown
    if fence.upright:
        return left < fence.places[0][0] < right
    return any(low < y < high for _, y in fence.places)


def _region(fences: list[Fence], panel: Panel) -> tuple[Place, ...]:
    """From which height on some fence forbids, within the panel; empty where none does."""
    (left, right), (low, high) = panel.x_shown, panel.y_shown
    xs = {left, right}
    for fence in fences:
        xs |= {x for x, _ in fence.places if left < x < right}
    border: list[Place] = []
    for x in sorted(xs):
        for just in (x, x + 1e-9 * (right - left)):  # an upright fence is a jump
            height = min((fence.height(just) for fence in fences), default=inf)
            border.append((x, min(max(height, low), high)))
    return tuple(border) if any(height < high for _, height in border) else ()
