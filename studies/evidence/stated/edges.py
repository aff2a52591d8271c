"""The interval of every knob's edge beside the edge that the rig truly has.

The true edge of a knob is where a nominal run against its part alone, with the rig's own stray
crashes, passes with the target of the study: every other knob stands at the recommendation, and
the room is as warm as in the last run, for which the planner states its chances.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from table import markdown

import planner
from planner.domain.knob import Harder, Knob, Setting
from planner.models.findings import Edge
from planner.models.joint.evidence import ROOM
from planner.rigs.evening.parts import Part
from planner.rigs.evening.rig import EveningRig

_POINTS = 121
"""Of the scan, over twice the knob's range."""
_HALVINGS = 14


@dataclass(frozen=True)
class Told:
    """One interval beside the truth; places are shares of the range, 0 at its easy end."""

    seed: int
    minutes: float
    knob: str
    runs: int
    """Runs that speak of it, as the planner counts them."""
    failed: int
    """Runs that truly failed for this knob's part."""
    ends: tuple[float, float]
    middle: float
    true: float
    prior: tuple[float, float]
    """The interval before any run, the other knobs at what was then recommended."""

    @property
    def missed(self) -> int:
        """-1 where the true edge is easier than the interval, 1 where it is harder, else 0."""
        return int(self.true > self.ends[1]) - int(self.true < self.ends[0])


def told(
    study: planner.Study,
    rig: EveningRig,
    minutes: float,
    prior: Mapping[str, Edge],
    causes: Sequence[str] = (),
) -> list[Told]:
    """Every knob's interval as the Python interface and `planner show` give it.

    `causes`: the knob whose part failed, of each failed run.
    """
    beside = study.recommendation().settings
    runs = study.history.evidence
    room = float(runs[-1].readings["room"]) if runs else ROOM
    parts = {part.knobs[0]: part for part in rig.parts}
    found = []
    for name, edge in study.edges().items():
        knob = rig.knobs[name]
        low, high = sorted(_share(knob, end) for end in edge.interval)
        true = _share(knob, true_edge(rig, parts[name], beside, room, edge.target))
        easy, hard = sorted(_share(knob, end) for end in prior[name].interval)
        middle, ends = _share(knob, edge.value), (low, high)
        seen = edge.runs, causes.count(name)
        found.append(Told(rig.seed, minutes, name, *seen, ends, middle, true, (easy, hard)))
    return found


def true_edge(rig: EveningRig, part: Part, beside: Setting, room: float, target: float) -> float:
    """Where one part alone lets the target share of nominal runs pass, in its knob's unit.

    Between values, and up to half a range beyond either end.
    """
    knob = rig.knobs[part.knobs[0]]
    wanted = target / (1 - rig.bench.stray)

    def holds(share: float) -> bool:
        return rig.holds(part, {**beside, knob.name: _value(knob, share)}, room) >= wanted

    places = np.linspace(-0.5, 1.5, _POINTS)
    failing = [i for i, place in enumerate(places) if not holds(float(place))]
    if not failing or failing[0] == 0:
        return _value(knob, -0.5 if failing else 1.5)
    low, high = float(places[failing[0] - 1]), float(places[failing[0]])
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if holds(middle) else (low, middle)
    return _value(knob, (low + high) / 2)


def _share(knob: Knob, value: float) -> float:
    assert knob.grid is not None
    share = (value - knob.grid.low) / (knob.grid.high - knob.grid.low)
    return 1 - share if knob.harder is Harder.DOWN else share


def _value(knob: Knob, share: float) -> float:
    assert knob.grid is not None
    up = 1 - share if knob.harder is Harder.DOWN else share
    return knob.grid.low + up * (knob.grid.high - knob.grid.low)


_HEAD = ("", "intervals", "cover", "truth easier", "truth harder", "mean width")


def table(every: Sequence[Told]) -> str:
    """Coverage, misses on each side, mean width as a share of the range."""
    moved = [t for t in every if t.runs]
    own = [t for t in moved if t.failed]
    rows = [
        _row("before any run", [t for t in every if not t.minutes]),
        _row("knobs with runs", moved),
        _row("of these, no run failed for it", [t for t in moved if not t.failed]),
        _row("some run did", own),
    ]
    for minutes in sorted({t.minutes for t in moved}):
        rows.append(_row(f"at {minutes:.0f} min", [t for t in moved if t.minutes == minutes]))
    for name in dict.fromkeys(t.knob for t in moved):
        rows.append(_row(name, [t for t in moved if t.knob == name]))
    return markdown(_HEAD, rows)


def unmoved_table(every: Sequence[Told]) -> str:
    """The same of knobs that no run moved, and how their interval lies to that of the prior."""
    still = [t for t in every if t.minutes and not t.runs]
    if not still:
        return "no knob without runs"
    rows = []
    for name in dict.fromkeys(t.knob for t in still):
        mine = [t for t in still if t.knob == name]
        wide = np.mean([_width(t.ends) / _width(t.prior) for t in mine])
        ends = np.array([[*t.ends, *t.prior] for t in mine]).mean(axis=0)
        said = f"{ends[0]:.2f} to {ends[1]:.2f}", f"{ends[2]:.2f} to {ends[3]:.2f}"
        rows.append([*_row(name, mine), *said, f"{wide:.2f}"])
    return markdown((*_HEAD, "stated, mean ends", "before any run", "width by prior's"), rows)


def _width(ends: tuple[float, float]) -> float:
    return ends[1] - ends[0]


def _row(label: str, some: Sequence[Told]) -> list[str]:
    if not some:
        return [label, "0", *"----"]
    missed = np.array([t.missed for t in some])
    shares = [float(np.mean(missed == side)) for side in (0, -1, 1)]
    width = float(np.mean([_width(t.ends) for t in some]))
    return [label, str(len(some)), *(f"{s:.3f}" for s in shares), f"{width:.2f}"]
