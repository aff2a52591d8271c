"""What a cooler room or a told change has opened again, and which run had closed it.

Edges move with the room by themselves, because the room is part of the model; but nothing that
failed to start, and no ceiling, is passed on warmth alone: starting does not depend on the room in
the model, and the gate knows of no room.
"""

from dataclasses import replace

import numpy as np

from planner.domain.knob import Setting
from planner.domain.outcome import Outcome
from planner.domain.quantity import format_number
from planner.domain.run import Run
from planner.gate import change_since
from planner.peak.search import PeakSearch

_COOLER = 1.0
"""So many kelvin cooler is worth a word."""
_LIKELIER = 0.02
"""So much must the cooler room add to the chance."""


def reopened(search: PeakSearch, setting: Setting) -> str:
    """A clause on the run that had closed a setting, and what is different now; empty: none had.

    A run had closed it if it failed while running, at a setting no harder for any knob.
    """
    for run in reversed(_closing(search, setting)):
        if change := change_since(search.history, run):
            return f"run {run.number} had closed this before the change told since: {change.what}"
        if _cooler(search, run, setting):
            then, now = (format_number(round(t, 1)) for t in (run.readings["room"], _room(search)))
            return f"run {run.number} had closed this at {then} C in the room, it is {now} C now"
    return ""


def _room(search: PeakSearch) -> float:
    return search.posterior.room


def _closing(search: PeakSearch, setting: Setting) -> list[Run]:
    """The runs that failed at a setting no harder, in order."""
    evidence, felt = search.posterior.evidence, search.posterior.felt([setting])
    easier = (evidence.at <= felt.at + 1e-9).all(axis=1) & (evidence.help >= felt.helps - 1e-9).all(
        axis=1
    )
    return [
        run
        for run, no_harder in zip(evidence.runs, np.asarray(easier), strict=True)
        if no_harder and run.outcome.failed and run.outcome is not Outcome.NO_START
    ]


def _cooler(search: PeakSearch, run: Run, setting: Setting) -> bool:
    """Whether the room is cooler now than in a run, and that is what helps."""
    then = run.readings.get("room")
    if then is None or then - _room(search) < _COOLER:
        return False
    before = replace(search.posterior, room=then)
    now, earlier = (np.mean(p.chances([setting])) for p in (search.posterior, before))
    return bool(now - earlier >= _LIKELIER)
