"""What the forms for runs on record and for a person's own runs show."""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.domain.knob import Harder, Knob
from planner.domain.run import Proposal, Run
from planner.history import History
from planner.page.asked import Rows, Tellable, tellable
from planner.page.form import KNOB, fields_of, typed_value
from planner.report.text.recorded import recorded_sentences


@dataclass(frozen=True, slots=True)
class Mending:
    """A run on record, to be told anew."""

    number: int
    amended: int
    outcome: str
    record: str
    """What is on record, in a sentence."""
    knobs: Rows
    """Field, name with unit or choices, and what was read back where that is another value."""
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
    set_to = {**run.ran, **run.settings}  # of a knob that is newer than the run: its stock value
    last = history.runs[-1].number == number
    after = pending is not None and pending.number > number
    return Mending(
        number=number,
        amended=run.amended,
        outcome=str(run.outcome),
        record=" ".join(recorded_sentences(run, history.definition)),
        knobs=[(f"{KNOB}{name}", _label(k) + _read_back(k, run)) for name, k in knobs.items()],
        typed=fields_of(run) | {f"{KNOB}{name}": typed_value(set_to[name]) for name in knobs},
        tellable=tellable(history, run.workload),
        built_on=pending.number if pending is not None and last and after else 0,
    )


def own_of(history: History) -> Own:
    """An empty slip, its knobs as the machine holds them."""
    knobs, machine = history.definition.knobs, history.machine
    return Own(
        number=history.next_number,
        knobs=[(f"{KNOB}{name}", _label(knob)) for name, knob in knobs.items()],
        typed={f"{KNOB}{name}": typed_value(machine[name]) for name in knobs},
        tellable=tellable(history, history.definition.workload.name),
    )


def _label(knob: Knob) -> str:
    if knob.harder is Harder.CHOICE:
        return f"{knob.name}, {knob.describe_values()}"
    return f"{knob.name}, {knob.unit}" if knob.unit else knob.name


def _read_back(knob: Knob, run: Run) -> str:
    value = run.ran[knob.name]
    if run.settings.get(knob.name, value) == value:
        return ""
    return f" (read back: {knob.show(value)}, which is what counts)"
