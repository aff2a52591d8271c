"""Knobs that follow another: timings a data rate, a ratio its base clock.

What a part feels of a timing is the time that it stands for: a faster data rate tightens every
timing whose clocks stand still. Looked at alone, a rate then seems to fail as soon as the tightest
timing does; followed, it is looked at with each timing's time kept.
"""

from collections.abc import Iterator

import numpy as np

from planner.domain.knob import Harder
from planner.models.hazard import Array
from planner.models.joint.layout import Risk
from planner.peak.space import Rows, Space


def followed(space: Space, rows: Rows, beside: Rows) -> Rows:
    """Rows (m, q) chosen as if all leaders stood as in the row `beside` (q,), brought after them.

    Each follower is eased, or may tighten, to the hardest of its values that is felt no harder
    than the row's own was with the leaders beside.
    """
    moved, columns = rows.copy(), _columns(space)
    for risk in space.layout.risks:
        share = np.ones(len(rows))
        for leader, power in _leaders(risk):
            if leader in columns:
                place, of = columns[leader]
                share *= (of[rows[:, place]] / of[beside[place]]) ** power
        if (share != 1).any() and risk.knob.name in columns:
            q, values = columns[risk.knob.name]
            sign = -1.0 if risk.knob.harder is Harder.DOWN else 1.0
            least = sign * values[rows[:, q]] * share + 1e-9
            moved[:, q] = np.maximum((sign * values <= least[:, None]).sum(axis=1) - 1, 0)
    return moved


def _leaders(risk: Risk) -> Iterator[tuple[str, int]]:
    """Knobs that a risk's own counts by, and how its value goes with theirs."""
    if risk.rate is not None:
        yield risk.rate.name, 1
    for name in risk.times:
        yield name, -1


def _columns(space: Space) -> dict[str, tuple[int, Array]]:
    """Place and values, easiest first, of each free knob without a word or nought among them."""
    found = {}
    for q, (knob, values) in enumerate(zip(space.knobs, space.values, strict=True)):
        numbers = [v for v in values if not isinstance(v, str)]
        if len(numbers) == len(values) and min(numbers) > 0:
            found[knob.name] = q, np.array(numbers, float)
    return found
