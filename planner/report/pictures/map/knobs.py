"""Which two knobs the map is drawn over."""

from planner.domain.knob import Knob
from planner.errors import InputError
from planner.history import History
from planner.report.pictures.picture import Wanted


def knobs_of(history: History, wanted: Wanted) -> tuple[Knob, Knob] | None:
    """The knobs to the right and upward; None where no second one was varied.

    To the right the searched knob; upward the study's second knob, else the one that was run at
    most values.

    Raises:
        InputError: a name that is no knob of the study, or the same one twice.
    """
    definition = history.definition
    right = _named(history, "--x", wanted.x) or definition.searched
    up = _named(history, "--y", wanted.y)
    if up is not None and not wanted.x and up is right:
        right = _most_varied(history, up)
    if right is None:
        return None
    if up is right:
        raise InputError(f"--x {right.name} --y {right.name}: expected two different knobs")
    if up is None and definition.goal.along != right.name:
        up = definition.knobs.get(definition.goal.along)
    up = up or _most_varied(history, right)
    return None if up is None else (right, up)


def _named(history: History, option: str, name: str) -> Knob | None:
    if not name:
        return None
    knobs = history.definition.knobs
    if name not in knobs:
        raise InputError(f"{option} {name}: expected a knob of the study: {', '.join(knobs)}")
    return knobs[name]


def _most_varied(history: History, other: Knob) -> Knob | None:
    """The knob beside `other` that was run at most values, at two at least."""
    values: dict[str, set[object]] = {name: set() for name in history.definition.knobs}
    for run in history.evidence:
        for name, value in run.ran.items():
            values[name].add(value)
    values.pop(other.name)
    most = max(values, key=lambda name: len(values[name]), default="")
    if not most or len(values[most]) < 2:
        return None
    return history.definition.knobs[most]
