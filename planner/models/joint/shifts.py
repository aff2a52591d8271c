"""What a whole group's edges stand shifted by: another workload, a choice, a told change, a boot.

Shifts are in shares of the way from the stock value to the hardest one, alike for all risks of a
group; positive: the edges lie further. The study's workload, the stock choice and the machine as it
is now are where they are none:

    another workload   loads a group as much, a bit more or less; much as the study's does if it
                       screens that group, and likely less if it screens others only
    a choice           each value but the stock one has a shift of its own, no order assumed
    a told change      all runs from before it stood shifted, so that old runs tell less and less of
                       the groups that were changed, and as much as ever of the others
    a boot             each start of the machine shifts what was trained in it anew

All are normal, the first three with the standard deviations below (common practice, no source); the
boots' is itself unknown.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from planner.domain.definition import Definition
from planner.domain.knob import Harder, Knob, Value, Where
from planner.domain.run import Run
from planner.history import Changed, History
from planner.models.hazard import Array
from planner.models.joint.layout import Layout

_WORKLOAD_SD = 0.15
_SCREENED_SD = 0.05
_UNSCREENED, _UNSCREENED_SD = 0.3, 0.3
_CHOICE_SD = 0.15
_CHANGE_SD = 0.12


@dataclass(frozen=True)
class Shift:
    """One thing that shifts the edges of a group."""

    mean: float
    sd: float
    workload: str = ""
    """Runs of this workload stand shifted."""
    knob: str = ""
    """Runs in which this choice has the value below stand shifted."""
    value: Value = ""
    change: int | None = None
    """Runs from before this change stand shifted."""

    def moved(self, run: Run) -> bool:
        """Whether a run stood shifted by it."""
        if self.workload:
            return run.workload == self.workload
        if self.change is not None:
            return run.epoch <= self.change
        return self.moves(run.ran)

    def moves(self, setting: Mapping[str, Value]) -> bool:
        """Whether a run of the study's workload on the machine as it is would stand shifted."""
        return bool(self.knob) and setting.get(self.knob) == self.value

    @property
    def starts(self) -> bool:
        """Whether it moves the edge of starting, too: a workload runs only after that."""
        return not self.workload


@dataclass(frozen=True)
class Shared:
    """The shifts of one group."""

    risks: tuple[int, ...]
    """Whose edges they move, by their place."""
    shifts: tuple[Shift, ...]
    boots: bool
    """Whether each boot shifts them anew."""

    def of_runs(self, runs: Sequence[Run]) -> Array:
        """1 where a run stood shifted, shape (n, c)."""
        rows = [[float(shift.moved(run)) for shift in self.shifts] for run in runs]
        return np.array(rows, float).reshape(len(runs), len(self.shifts))

    def of_settings(self, settings: Sequence[Mapping[str, Value]]) -> Array:
        """1 where a setting would stand shifted, shape (m, c)."""
        rows = [[float(shift.moves(setting)) for shift in self.shifts] for setting in settings]
        return np.array(rows, float).reshape(len(settings), len(self.shifts))


def shared_of(history: History, layout: Layout, runs: Sequence[Run]) -> tuple[Shared, ...]:
    """The shifts of each group that has any; `runs`: what will be evidence."""
    groups: dict[str, list[int]] = {}
    for place, risk in enumerate(layout.risks):
        groups.setdefault(risk.knob.group, []).append(place)
    boots = boots_of(history.definition, runs)
    found = []
    for group, places in groups.items():
        shifts = (
            *_workloads(history.definition, group, runs),
            *_choices(history.definition, layout, group),
            *_changes(history.changes, group, runs),
        )
        trained = any(layout.risks[k].starts for k in places) and len(set(boots)) < len(boots)
        if shifts or trained:
            found.append(Shared(tuple(places), shifts, trained))
    return tuple(found)


def boots_of(definition: Definition, runs: Sequence[Run]) -> tuple[int, ...]:
    """Counts the starts of the machine: a changed value of the firmware takes one too."""
    firmware = [k.name for k in definition.knobs.values() if k.where is Where.FIRMWARE]
    found: list[int] = []
    before: tuple[object, ...] = ()
    for run in runs:
        now = (run.boot, *(run.settings.get(name) for name in firmware))
        found.append((found[-1] if found else 0) + (now != before))
        before = now
    return tuple(found)


def workload_shift(definition: Definition, group: str, name: str) -> Shift:
    """By how much runs of another workload than the study's stand shifted in a group."""
    workload = definition.workloads.get(name)
    screens = workload.screens if workload else ()
    if not screens:
        return Shift(0.0, _WORKLOAD_SD, workload=name)
    if group in screens:
        return Shift(0.0, _SCREENED_SD, workload=name)
    return Shift(_UNSCREENED, _UNSCREENED_SD, workload=name)


def _workloads(definition: Definition, group: str, runs: Sequence[Run]) -> list[Shift]:
    return [
        workload_shift(definition, group, name)
        for name in dict.fromkeys(run.workload for run in runs)
        if name != definition.workload.name
    ]


def _choices(definition: Definition, layout: Layout, group: str) -> list[Shift]:
    return [
        Shift(0.0, _CHOICE_SD, knob=knob.name, value=value)
        for knob in definition.knobs.values()
        if knob.harder is Harder.CHOICE and _concerns(knob, layout, group)
        for value in knob.choices
        if value != knob.stock
    ]


def _concerns(knob: Knob, layout: Layout, group: str) -> bool:
    """A choice shifts the groups of what it supports, else its own, else all."""
    groups = {r.knob.group for r in layout.risks if r.knob.name in knob.supports}
    return group in groups if groups else not knob.group or knob.group == group


def _changes(changes: Sequence[Changed], group: str, runs: Sequence[Run]) -> list[Shift]:
    first = min((run.epoch for run in runs), default=len(changes))
    return [
        Shift(0.0, _CHANGE_SD, change=place)
        for place, change in enumerate(changes)
        if place >= first and (not change.groups or not group or group in change.groups)
    ]
