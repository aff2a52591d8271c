"""Complete settings in words: each value with its unit and its mark."""

from collections.abc import Sequence

from planner.domain.knob import Value
from planner.domain.quantity import with_unit
from planner.report.sheet.line import Line, Mark
from planner.report.written.blocks import Strong, Table, Words

OWN_RISK = "AT YOUR OWN RISK"


def value_words(line: Line, value: Value | None) -> str:
    """A value of a line with its unit."""
    return "not told" if value is None else with_unit(value, line.unit)


def risk_words(names: Sequence[str]) -> Strong:
    """The warning for a setting above its everyday ceilings."""
    return Strong(f"{OWN_RISK}: above the everyday ceiling of {', '.join(names)}.")


def run_table(lines: Sequence[Line], name: str) -> Table:
    """The setting of a run; what really ran has a column of its own where it differs."""
    differs = any(line.as_set != line.ran for line in lines)
    heads = ("As set", "Really ran") if differs else ("As set and run",)
    rows = [
        (_name(line), *([_marked(line, line.as_set, line.set_mark)] if differs else []), _ran(line))
        for line in lines
    ]
    return Table(("Knob", *heads), tuple(rows), name if differs else "")


def kept_table(lines: Sequence[Line], beside: Sequence[Line], heads: tuple[str, ...]) -> Table:
    """A setting to keep, and where there is one the everyday setting beside it."""
    others = {line.name: line for line in beside}
    rows = [
        (_name(line), _ran(line), *([_ran(others[line.name])] if line.name in others else []))
        for line in lines
    ]
    return Table(("Knob", *heads), tuple(rows), "Settings to keep" if beside else "")


def _name(line: Line) -> str:
    """A knob with where it is changed, or a derived value with what it is made of."""
    return f"{line.name} = {line.made_of}" if line.made_of else f"{line.name} ({line.where})"


def _ran(line: Line) -> Words:
    """What really ran, and what else there is to say of it."""
    more = ""
    if line.as_set is None and not line.made_of:
        more = ", added to the study later"
    if line.removed:
        more = ", no longer in the study"
    return _marked(line, line.ran, line.ran_mark, more)


def _marked(line: Line, value: Value | None, mark: Mark | None, more: str = "") -> Words:
    shown = value_words(line, value) + more
    return shown if mark is None else (f"{shown}, ", Strong(_mark(line, mark)))


def _mark(line: Line, mark: Mark) -> str:
    if mark.everyday is None:
        text = f"{OWN_RISK}: above stock, and no everyday ceiling is filled in"
    else:
        text = f"{OWN_RISK}: above {with_unit(mark.everyday, line.unit)}"
    if mark.last is None:
        return text
    last = "HARD STOP" if mark.stops else "LAST CEILING"
    return f"{text}, PAST THE {last} of {with_unit(mark.last, line.unit)}"
