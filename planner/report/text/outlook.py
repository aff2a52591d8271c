"""What readings are expected, which values are not asked for because of them, where dew begins."""

from collections.abc import Mapping
from dataclasses import replace

from planner.domain.knob import Harder, Knob, Value
from planner.domain.quantity import format_number, with_unit
from planner.forecast.cold import room_dew_point
from planner.forecast.outlook import Outlook
from planner.forecast.readings import forecast_readings
from planner.gate import Gate, gate_of
from planner.history import History

Rows = list[tuple[str, str]]


def expected_rows(history: History, setting: Mapping[str, Value]) -> Rows:
    """What the readings should come to at a setting; empty where no run tells."""
    told = []
    for name, predicted in forecast_readings(history, setting).items():
        reading = history.definition.readings[name]
        low, high = (format_number(round(end)) for end in (predicted.low, predicted.high))
        text = f"{name} {with_unit(round(predicted.value), reading.unit)} ({low} to {high})"
        if reading.stop is not None:
            text += f", stop {with_unit(reading.stop, reading.unit)}"
        told.append(text)
    return [("Expect", "; ".join(told))] if told else []


def barred_rows(history: History, setting: Mapping[str, Value]) -> Rows:
    """Values of a searched knob that readings forbid, the others as in a setting, and why.

    Where all knobs are turned at once they are named.
    """
    definition, gate = history.definition, gate_of(history)
    one = definition.goal.aim.one_knob
    knobs = filter(None, [definition.searched]) if one else definition.knobs.values()
    rows: Rows = []
    for knob in knobs if gate.outlook.forbids else ():
        if knob.harder is not Harder.CHOICE and (told := _barred(gate, knob, setting)):
            rows.append(("" if rows else "Barred", told if one else f"{knob.name} {told}"))
    return [*rows, *_dew_rows(history)]


def _barred(gate: Gate, knob: Knob, setting: Mapping[str, Value]) -> str:
    """The values of one knob that readings alone forbid; empty where none is."""
    rest = replace(gate, outlook=Outlook(gate.definition)).permitted_values(knob, setting)
    barred = [v for v in rest if gate.outlook.objections({**setting, knob.name: v})]
    if not barred:
        return ""
    here = knob.hardness(float(setting[knob.name]))
    first = min(barred, key=lambda value: abs(knob.hardness(float(value)) - here))
    why = "; ".join(gate.outlook.objections({**setting, knob.name: first}))
    return f"{_span(knob.show(first), len(barred))}: {why}"


def _dew_rows(history: History) -> Rows:
    """Where water settles, in a study that records the room and its humidity."""
    dew = room_dew_point(history)
    if dew is None:
        return []
    point = format_number(round(dew, 1))
    return [("Dew", f"{point} C is the dew point of this room: keep all that is cooled above it")]


def _span(first: str, count: int) -> str:
    return first if count == 1 else f"{first} and {count - 1} more"
