"""Settings as rows of indices: what may be proposed, and what it costs to dial in."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from planner.domain.knob import Knob, Setting, Value
from planner.gate import Gate
from planner.models.hazard import Array
from planner.models.joint.layout import Layout

Rows = NDArray[np.intp]
"""One index into each free knob's values, shape (m, q)."""


@dataclass(frozen=True)
class Space:
    """The free knobs with the values that the gate permits them one by one."""

    gate: Gate
    layout: Layout
    knobs: tuple[Knob, ...]
    values: tuple[tuple[Value, ...], ...]
    """Of each free knob, easiest first; choices in no order."""
    base: Setting
    """A complete setting; the other knobs stand as in it."""

    def rows(self, settings: Sequence[Mapping[str, Value]]) -> Rows:
        """The nearest rows of settings."""
        columns = [
            _nearest(vs, [s[k.name] for s in settings])
            for k, vs in zip(self.knobs, self.values, strict=True)
        ]
        return np.array(columns, np.intp).reshape(len(self.knobs), len(settings)).T.copy()

    def setting(self, row: Sequence[int] | Rows) -> Setting:
        """The complete setting of one row."""
        named = {k.name: vs[int(i)] for k, vs, i in zip(self.knobs, self.values, row, strict=True)}
        return {**self.base, **named}

    def settings(self, rows: Rows) -> list[Setting]:
        """The complete settings of rows."""
        return [self.setting(row) for row in rows.tolist()]

    @cached_property
    def sizes(self) -> Rows:
        """How many values each free knob has, shape (q,)."""
        return np.array([len(vs) for vs in self.values], np.intp)

    def dial_minutes(self, rows: Rows, machine: Mapping[str, Value], restarting: bool) -> Array:
        """Minutes to dial each row in from what the machine holds, shape (m,)."""
        dialling = {n: (c, r) for n, c, r in self.gate.definition.dialling}
        minutes, restart = np.zeros(len(rows)), np.zeros(len(rows))
        for q, (knob, values) in enumerate(zip(self.knobs, self.values, strict=True)):
            change, restarts = dialling[knob.name]
            held = machine.get(knob.name)
            moved = np.array([v != held for v in values])[rows[:, q]]
            minutes += change * moved
            restart = np.maximum(restart, restarts * moved)
        return minutes if restarting else minutes + restart

    def changes(self, rows: Rows, machine: Mapping[str, Value]) -> Rows:
        """How many values each row changes of what the machine holds, shape (m,)."""
        free = {knob.name for knob in self.knobs}
        fixed = sum(machine.get(n) != v for n, v in self.base.items() if n not in free)
        count = np.full(len(rows), fixed, np.intp)
        for q, (knob, values) in enumerate(zip(self.knobs, self.values, strict=True)):
            moved = np.array([v != machine.get(knob.name) for v in values], np.intp)
            count += moved[rows[:, q]]
        return count


def space_of(gate: Gate, layout: Layout, base: Setting, free: Sequence[str]) -> Space:
    """The free knobs' permitted values, each beside `base`."""
    knobs, values = [], []
    for name in free:
        knob = gate.definition.knobs[name]
        top = gate.ceilings.get(name)
        allowed = tuple(v for v in knob.values if isinstance(v, str) or top is None or v <= top)
        if allowed:
            knobs.append(knob)
            values.append(allowed)
    return Space(gate, layout, tuple(knobs), tuple(values), base)


def _nearest(values: Sequence[Value], wanted: Sequence[Value]) -> Rows:
    """The places of the nearest values, shape (m,); an unknown word counts as the first."""
    numbers = [v for v in values if not isinstance(v, str)]
    if len(numbers) < len(values):
        return np.array([values.index(v) if v in values else 0 for v in wanted], np.intp)
    given = np.array([numbers[0] if isinstance(v, str) else v for v in wanted], float)
    return np.asarray(np.abs(given[:, None] - np.array(numbers)).argmin(axis=1))
