"""What a drive may ask for, and when it has failed often enough."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from planner.domain.definition import Definition
from planner.domain.knob import Setting, Where
from planner.domain.launch import Drive
from planner.domain.outcome import Outcome
from planner.domain.run import Run
from planner.domain.tables import Aim
from planner.history import History

VOIDS = 3
"""So many void runs in a row: whatever spoils them will spoil the next."""


def attended(history: History) -> History:
    """The history with what a drive never asks for again: settings that took the machine down."""
    return replace(history, barred=(*history.barred, *deadly(history)))


def unattended(history: History) -> History:
    """The same, under everyday ceilings, with every knob that is not live where it is."""
    knobs = history.definition.knobs.values()
    fixed = {k.name: history.machine[k.name] for k in knobs if k.where is not Where.LIVE}
    return replace(attended(history), accepted={}, fixed=fixed)


def deadly(history: History) -> tuple[Setting, ...]:
    """Settings that took the machine down since it was last changed, and have not held since."""
    latest, found = len(history.changes), []
    for run in history.evidence:
        if run.outcome.restarts and run.epoch == latest and run.ran not in found:
            found.append(run.ran)
        elif run.outcome.held and run.ran in found:
            found.remove(run.ran)
    return tuple(found)


def unturnable(definition: Definition) -> str | None:
    """A knob that the study searches and that only a person can turn; None: there is none."""
    goal, knobs = definition.goal, definition.knobs
    names = [definition.searched.name] if definition.searched else []
    names += [goal.along] if goal.aim is Aim.FRONTIER and goal.along else []
    if goal.aim not in (Aim.EDGE, Aim.FRONTIER):
        names = list(knobs) if all(k.where is not Where.LIVE for k in knobs.values()) else []
    return next((name for name in names if knobs[name].where is not Where.LIVE), None)


def enough(drive: Drive, runs: Sequence[Run]) -> str | None:
    """Why the drive ends after these runs of its own; None: it goes on."""
    if (count := _last(runs, lambda run: run.outcome is Outcome.NO_START)) >= drive.no_starts:
        return f"{count} runs in a row did not start"
    told = [run for run in runs if run.outcome is not Outcome.VOID]
    if (count := _last(told, lambda run: run.outcome.failed)) >= drive.failures:
        return f"{count} runs in a row did not hold"
    if (count := _last(runs, lambda run: run.outcome is Outcome.VOID)) >= VOIDS:
        return f"{count} runs in a row said nothing: {runs[-1].note or 'see their output'}"
    return None


def _last(runs: Sequence[Run], holds: Callable[[Run], bool]) -> int:
    """How many of the last runs it holds for."""
    count = 0
    for run in reversed(runs):
        if not holds(run):
            break
        count += 1
    return count
