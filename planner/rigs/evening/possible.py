"""The best that a rig allows: the highest score among settings that pass at least so often.

Climbs `log score + price x log P(pass)` one knob at a time and two at a time, for a row of prices,
and then polishes the best setting found under the constraint itself. Nothing is assumed of the
rig but that neighbours are alike.
"""

from collections.abc import Callable, Iterator
from itertools import combinations
from math import inf, log

from planner.domain.knob import Setting
from planner.rigs.evening.rig import EveningRig

_PRICES = (0.003, 0.01, 0.03, 0.1)
_MOVES = (-6, -2, -1, 1, 2, 6)
_ROUNDS = 40

Worth = Callable[[Setting], float]


def best_setting(rig: EveningRig, passing: float = 0.5) -> Setting:
    """The setting with the best noise-free score that passes at least so often, at first room."""
    room = rig.bench.room

    def allowed(setting: Setting) -> float:
        enough = rig.pass_probability(setting, room) >= passing
        return rig.log_gain(setting) if enough else -inf

    def priced(price: float) -> Worth:
        return lambda s: (
            rig.log_gain(s) + price * log(max(rig.pass_probability(s, room) / passing, 1e-30))
        )

    found = rig.stock
    for price in _PRICES:
        climbed = _climb(rig, found, priced(price))
        found = max(found, _climb(rig, _eased(rig, climbed, allowed), allowed), key=allowed)
    return found


def _climb(rig: EveningRig, setting: Setting, worth: Worth) -> Setting:
    best = worth(setting)
    for _ in range(_ROUNDS):
        moved = max(_neighbours(rig, setting), key=worth)
        if worth(moved) <= best + 1e-9:
            break
        setting, best = moved, worth(moved)
    return setting


def _eased(rig: EveningRig, setting: Setting, allowed: Worth) -> Setting:
    """The setting taken back towards stock until it is allowed."""
    while allowed(setting) == -inf and setting != rig.stock:
        room = rig.bench.room
        back = [_moved(rig, setting, {name: -1}) for name in rig.knobs]
        setting = max(
            (s for s in back if s is not None), key=lambda s: rig.pass_probability(s, room)
        )
    return setting


def _neighbours(rig: EveningRig, setting: Setting) -> Iterator[Setting]:
    for name in rig.knobs:
        for move in _MOVES:
            if (moved := _moved(rig, setting, {name: move})) is not None:
                yield moved
    for one, other in combinations(rig.knobs, 2):
        for move, by in ((1, 1), (1, -1), (-1, 1), (2, 1), (1, 2), (2, -1)):
            if (moved := _moved(rig, setting, {one: move, other: by})) is not None:
                yield moved


def _moved(rig: EveningRig, setting: Setting, moves: dict[str, int]) -> Setting | None:
    """The setting with knobs so many values further; None outside ranges and ceilings."""
    moved = dict(setting)
    for name, move in moves.items():
        knob = rig.knobs[name]
        index = knob.values.index(moved[name]) + move
        if not 0 <= index < len(knob.values):
            return None
        value, top = knob.values[index], knob.ceilings.everyday
        if top is not None and float(value) > top:
            return None
        moved[name] = value
    return moved
