"""What the forms for runs on record and for a person's own runs show."""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.domain.knob import Harder, Knob, Value
from planner.domain.quantity import format_number
from planner.domain.run import Proposal
from planner.history import History
from planner.page.asked import Rows, Tellable, tellable
from planner.page.form import KNOB, fields_of
from planner.report.text.recorded import recorded_sentences


@dataclass(frozen=True, slots=True)
class Mending:
    """A run on record, to be told anew."""

    number: int
    amended: int
    outcome: str
    record: str
    """What is on record, in a sentence."""
    settings: Rows
    typed: Mapping[str, str]
    """What the fields hold at first."""
    tellable: Tellable
    built_on: int
    """The run that was asked for after it, on what it told; 0: none."""


@dataclass(frozen=True, slots=True)
class Own:
    """A run that nobody asked for, to be told."""

    number: int
    """The lowest that it can get."""
    knobs: Rows
    """Field, name with unit or choices."""
    typed: Mapping[str, str]
    """What the machine holds, as far as told."""
    tellable: Tellable


def mending_of(history: History, number: int, pending: Proposal | None) -> Mending | None:
    """A run on record; None where there is none of that number."""
    run = history.by_number.get(number)
    if run is None:
        return None
    knobs = history.definition.knobs
    last = history.runs[-1].number == number
    after = pending is not None and pending.number > number
    return Mending(
        number=number,
        amended=run.amended,
        outcome=str(run.outcome),
        record=" ".join(recorded_sentences(run, history.definition)),
        settings=[(name, knobs[name].show(run.ran[name])) for name in knobs],
        typed=fields_of(run),
        tellable=tellable(history, run.workload),
        built_on=pending.number if pending is not None and last and after else 0,
    )


def own_of(history: History) -> Own:
    """An empty slip, its knobs as the machine holds them."""
    knobs, machine = history.definition.knobs, history.machine
    return Own(
        number=history.next_number,
        knobs=[(f"{KNOB}{name}", _label(knob)) for name, knob in knobs.items()],
        typed={f"{KNOB}{name}": _typed(knob, machine[name]) for name, knob in knobs.items()},
        tellable=tellable(history, history.definition.workload.name),
    )


def _label(knob: Knob) -> str:
    if knob.harder is Harder.CHOICE:
        return f"{knob.name}, {knob.describe_values()}"
    return f"{knob.name}, {knob.unit}" if knob.unit else knob.name


def _typed(knob: Knob, value: Value) -> str:
    if isinstance(value, str) or knob.grid is None:
        return knob.show(value)
    return format_number(value)
