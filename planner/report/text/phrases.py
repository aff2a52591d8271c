"""Phrases that several screens share: settings, chances, minutes, risk."""

from collections.abc import Mapping, Sequence

from planner.domain.definition import Definition
from planner.domain.knob import Knob, Value
from planner.domain.quantity import format_number, with_unit
from planner.domain.run import Run
from planner.domain.tables import Aim


def chance(probability: float) -> str:
    """A probability in whole per cent that never claims certainty."""
    if probability > 0.99:
        return "over 99%"
    return "under 1%" if probability < 0.01 else f"{probability:.0%}"


def minutes(value: float) -> str:
    """Minutes to a tenth, or seconds where that would be none."""
    if 0 < value < 0.1:
        return f"{format_number(round(value * 60, 1))} s"
    return f"{format_number(round(value, 1))} min"


def counted(number: int, one: str, many: str = "") -> str:
    """A number of things: `1 run`, `2 runs`."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def setting(definition: Definition, values: Mapping[str, Value]) -> str:
    """The searched knob, that along which a frontier runs, and every other not at stock."""
    shown = [
        f"{name} {knob.show(values[name])}"
        for name, knob in definition.knobs.items()
        if name in values and (knob in traced(definition) or values[name] != knob.stock)
    ]
    rest = ["others at stock"] if len(shown) < len(definition.knobs) else []
    return ", ".join(shown + rest)


def traced(definition: Definition) -> list[Knob]:
    """The searched knob and, of a frontier, the one that it runs along."""
    goal, searched = definition.goal, definition.searched
    along = definition.knobs.get(goal.along) if goal.aim is Aim.FRONTIER else None
    return [knob for knob in (searched, along) if knob is not None]


def in_unit(definition: Definition, name: str, value: float) -> str:
    """A value of a knob, derived value or reading with its unit."""
    return with_unit(value, unit_of(definition, name))


def unit_of(definition: Definition, name: str) -> str:
    """The unit of a knob, derived value or reading; empty where it has none."""
    nouns = (definition.knobs, definition.derived, definition.readings)
    return next((known[name].unit for known in nouns if name in known), "")


def own_risk(names: Sequence[str]) -> str:
    """The warning for a setting above its everyday ceilings."""
    return f"AT YOUR OWN RISK: above the everyday ceiling of {', '.join(names)}"


def ending(run: Run) -> str:
    """How a run ended: outcome, time or count of errors."""
    text = str(run.outcome)
    if run.errors:
        text += f" ({run.errors} counted)"
    if run.failed_after_s is not None:
        text += f" after {format_number(run.failed_after_s)} s"
    if run.outcome == "stopped":
        text += f" after {minutes(run.run_minutes)}"
    return text
