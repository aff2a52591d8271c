"""Late in an evening people mistype: voltages that a run raises are to be read from the machine."""

from collections.abc import Mapping

from planner.domain.definition import Definition
from planner.domain.knob import Value
from planner.domain.run import Change, Proposal
from planner.history import History

_LATE = 0.75


def to_read_back(proposal: Proposal, history: History) -> list[Change]:
    """Raised voltages in the last quarter of the evening; none before, or without an end."""
    minutes = history.definition.goal.minutes
    if minutes is None or history.minutes_spent < _LATE * minutes:
        return []
    knobs = history.definition.knobs
    return [
        change
        for change in proposal.changes
        if knobs[change.knob].lifts_voltage
        and not isinstance(change.before, str)
        and not isinstance(change.after, str)
        and change.after > change.before
    ]


def question(definition: Definition, change: Change) -> str:
    """What is asked of one voltage."""
    asked = definition.knobs[change.knob].show(change.after)
    return f"{change.knob} as the machine reads it (asked for: {asked})"


def differences(
    definition: Definition, asked: Mapping[str, Value], read: Mapping[str, Value]
) -> list[str]:
    """Where the machine reads something else than was asked for, in sentences."""
    found = []
    for name, value in read.items():
        if value != asked[name]:
            there, here = (definition.knobs[name].show(v) for v in (asked[name], value))
            found.append(f"{name}: {there} was asked for, you read {here}.")
    return found
