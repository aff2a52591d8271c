"""A short run of another workload before a whole run, where it pays.

A screen pays where the answer, whether the setting holds a whole run, is expected in fewer minutes
with it than without, its own counted, and where it turns away little that would have passed: runs
differ, so what is an extra hurdle for bad settings is one for good ones, too.
"""

from dataclasses import dataclass, replace

import numpy as np

from planner.domain.dialling import dial_minutes
from planner.domain.knob import Setting
from planner.domain.run import Run
from planner.domain.tables import Workload
from planner.models.joint.screening import log_screened
from planner.peak.attempts import attempts_at, failing
from planner.peak.choosing import Pick, picked, values_among
from planner.peak.search import PeakSearch
from planner.peak.space import Rows

_KEPT = 0.85
"""A screen that lets fewer of the passes come to the whole run costs more than it saves."""
_TRIFLE = 0.25
"""Share of its own minutes that a screen must save at least, beyond them: it takes a start, too."""
_AS_GOOD = 1.5
"""What a screen has passed for is run unless something else promises so many times as much."""


@dataclass(frozen=True)
class Screen:
    """A short run of another workload at the setting that was picked."""

    workload: Workload
    chance: float
    """That it starts and holds."""
    minutes: float
    """Expected for the screen alone, dialling in and recovery included."""
    saved: float
    """Minutes by which the answer is expected earlier than by the whole run at once."""
    kept: float
    """Share of passes of the whole run that the screen lets come to it."""


def screen_for(search: PeakSearch, pick: Pick) -> Screen | None:
    """The screen that pays most before a whole run at what was picked; None: none does."""
    if not search.scored:
        return None
    setting = search.space.setting(pick.row)
    offered = [_weighed(search, pick, each) for each in _screens(search, setting)]
    paying = [
        each
        for each in offered
        if each.saved >= _TRIFLE * each.workload.minutes and each.kept >= _KEPT
    ]
    return max(paying, key=lambda each: each.saved, default=None)


def after_screen(search: PeakSearch, offered: Rows, best: Pick | None) -> Pick | None:
    """What to run: where the last run was a passed screen the setting that it was for.

    `best`: what promises most by now; it is kept where it promises far more.
    """
    row = _screened(search)
    if row is None:
        return best
    rows = row[None, :] if best is None else np.array([row, best.row])
    values = values_among(search, offered)(rows)
    stays = values[0] > 0 and values[0] * _AS_GOOD >= values[-1]
    return picked(search, row) if stays else best


def _screened(search: PeakSearch) -> Rows | None:
    """The row at which the last run was a passed screen, if it may be run on these terms."""
    run = search.history.evidence[-1] if search.history.evidence else None
    if run is None or not run.outcome.held or not _groups_of(search, run):
        return None
    row = search.space.rows([run.ran])[0]
    setting = search.space.setting(row)
    here = setting == run.ran and search.gate.permits(setting)
    return row if here and run.epoch == len(search.history.changes) else None


def _groups_of(search: PeakSearch, run: Run) -> tuple[str, ...]:
    """The groups that a run screened; none where it was the study's workload."""
    definition = search.history.definition
    workload = definition.workloads.get(run.workload)
    return () if workload is None or workload is definition.workload else workload.screens


def _screens(search: PeakSearch, setting: Setting) -> list[Workload]:
    """Shorter workloads that screen groups no screen has run for there since the last change."""
    history, definition = search.history, search.history.definition
    drive = definition.drive
    if drive is not None and not drive.names_workload:
        return []  # its one command knows the study's workload only
    there = (r for r in history.evidence if r.ran == setting and r.epoch == len(history.changes))
    known = {group for run in there for group in _groups_of(search, run)}
    return [
        each
        for each in definition.workloads.values()
        if each is not definition.workload
        and each.minutes < definition.workload.minutes
        and each.screens
        and not known & set(each.screens)
        and _fits(search, setting, each)
    ]


def _weighed(search: PeakSearch, pick: Pick, workload: Workload) -> Screen:
    """One screen against the whole run at once; by expectations over the particles."""
    history, posterior, rows = search.history, search.posterior, pick.row[None, :]
    setting, attempts = search.space.setting(pick.row), attempts_at(history, search.space, rows)
    felt = posterior.felt([setting])
    starts, holds = (np.exp(logs)[:, 0] for logs in posterior.log_chances(felt))
    lasts = np.exp(log_screened(posterior, history.definition, workload, setting))
    started, held = float(starts.mean()), float(holds.mean())
    passes, both = float((starts * lasts).mean()), float((holds * lasts).mean())
    short = replace(
        attempts, length=workload.minutes, crash=failing(history, workload.minutes)
    ).expected(started, passes)
    price = float(search.crash_price(felt)[0])
    whole = both * attempts.length + (passes - both) * attempts.crash
    through = float(short[0]) + whole + (1 - both) * price
    once = float(attempts.expected(started, held)[0]) + (1 - held) * price
    kept = both / max(held, 1e-12)
    return Screen(workload, passes, float(short[0]), once - through, kept)


def _fits(search: PeakSearch, setting: Setting, workload: Workload) -> bool:
    """Whether the screen and the whole run after it fit in what is left of the evening."""
    history, left = search.history, search.history.minutes_left
    dial = dial_minutes(history.definition, history.machine, setting, history.restarting)
    return left is None or dial + workload.minutes + history.definition.workload.minutes <= left
