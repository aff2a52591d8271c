"""What was told between the runs, in words: risks accepted, changes, edits, the end."""

from dataclasses import dataclass

from planner.domain.event import Kind
from planner.history import History, Milestone
from planner.report.pictures.words import short
from planner.report.text import phrases

_WIDTH = 34
"""Characters of what a person wrote."""


@dataclass(frozen=True, slots=True)
class Told:
    """An upright mark."""

    minutes: float
    """Bench minutes spent by then."""
    after: int
    """Runs that count, made by then."""
    kind: Kind
    words: str


def told_between(history: History, width: int = _WIDTH) -> tuple[Told, ...]:
    """The marks in order; of several of a kind between the same two runs the last one's words.

    The first definition is no change of it. `width`: characters of what a person wrote.
    """
    spent = [0.0]
    for run in history.evidence:
        spent.append(spent[-1] + run.minutes)
    marks: dict[tuple[int, Kind, str], Told] = {}
    for milestone in history.milestones:
        if milestone.kind is Kind.DEFINED and not milestone.after:
            continue
        name = milestone.what if milestone.kind in (Kind.ACCEPTED, Kind.CHANGED) else ""
        place = (milestone.after, milestone.kind, name)
        words = _words(history, milestone, width)
        marks[place] = Told(spent[milestone.after], milestone.after, milestone.kind, words)
    return tuple(marks.values())


def _words(history: History, milestone: Milestone, width: int) -> str:
    kind, what = milestone.kind, short(milestone.what, width)
    if kind is Kind.ACCEPTED and milestone.up_to is not None:
        ceilings = history.definition.guarded.get(milestone.what)
        everyday = None if ceilings is None else ceilings.everyday
        if everyday is not None and milestone.up_to <= everyday:
            return f"own risk of {what} taken back"
        to = phrases.in_unit(history.definition, milestone.what, milestone.up_to)
        return f"AT YOUR OWN RISK: {what} accepted to {to}"
    if kind is Kind.CHANGED:
        return f"changed: {what}"
    return {Kind.DEFINED: "study.toml edited", Kind.CLOSED: "closed"}.get(kind, "reopened")
