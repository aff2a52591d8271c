"""Complete settings line by line: every knob, every derived value, and what is at own risk."""

from collections.abc import Mapping
from dataclasses import replace

from planner.domain.definition import Definition
from planner.domain.knob import Setting, Value
from planner.domain.run import Run
from planner.domain.tables import Derived
from planner.gate import above_everyday, past_hard_stop
from planner.history import History
from planner.report.sheet.line import Line, Mark


def whole_setting(run: Run) -> Setting:
    """What really ran, with knobs that the study had then and has no more, as they were set."""
    return {**run.settings, **run.ran}


def lines_of_run(history: History, run: Run) -> tuple[Line, ...]:
    """The setting of a run: knobs by the definition of then, ceilings and sums by today's."""
    now, then = history.definition, history.definitions[run.definition]
    knobs = {**now.knobs, **then.knobs}
    ran = whole_setting(run)
    as_set = {**ran, **run.settings}
    marks = _marks_of_run(history, run, as_set), _marks_of_run(history, run, ran)
    lines = [
        Line(
            name=name,
            unit=knobs[name].unit,
            as_set=run.settings.get(name),
            ran=ran[name] if name in run.settings else None,
            where=knobs[name].where.value,
            set_mark=marks[0].get(name),
            ran_mark=marks[1].get(name),
            removed=name not in now.knobs,
        )
        for name in [*then.knobs, *(n for n in now.knobs if n not in then.knobs)]
    ]
    gone = [
        replace(line, removed=True)
        for line in _derived_lines(then, as_set, ran, marks)
        if line.name not in now.derived
    ]
    return (*lines, *_derived_lines(now, as_set, ran, marks), *gone)


def at_own_risk(history: History, run: Run) -> tuple[str, ...]:
    """Knobs and derived values above their everyday ceiling, by what was set or what ran."""
    ran = whole_setting(run)
    marks = _marks_of_run(history, run, ran)
    if run.ran != run.settings:
        marks |= _marks_of_run(history, run, {**ran, **run.settings})
    return tuple(marks)


def lines_of_setting(definition: Definition, setting: Setting) -> tuple[Line, ...]:
    """The lines of a setting that is recommended, not run."""
    marks = _marks(definition, setting)
    lines = [
        Line(
            name=name,
            unit=knob.unit,
            as_set=setting[name],
            ran=setting[name],
            where=knob.where.value,
            set_mark=marks.get(name),
            ran_mark=marks.get(name),
        )
        for name, knob in definition.knobs.items()
    ]
    return (*lines, *_derived_lines(definition, setting, setting, (marks, marks)))


def _derived_lines(
    definition: Definition,
    as_set: Mapping[str, Value],
    ran: Mapping[str, Value],
    marks: tuple[Mapping[str, Mark], Mapping[str, Mark]],
) -> list[Line]:
    """`marks`: of what was set, and of what really ran."""
    set_numbers, ran_numbers = definition.numbers(as_set), definition.numbers(ran)
    return [
        Line(
            name=name,
            unit=derived.unit,
            as_set=set_numbers.get(name),
            ran=ran_numbers.get(name),
            made_of=_formula(derived),
            set_mark=marks[0].get(name),
            ran_mark=marks[1].get(name),
        )
        for name, derived in definition.derived.items()
        if name in ran_numbers or name in set_numbers
    ]


def _formula(derived: Derived) -> str:
    sign = " + " if derived.operation == "sum" else " x "
    return sign.join(derived.members)


def _marks_of_run(history: History, run: Run, setting: Mapping[str, Value]) -> dict[str, Mark]:
    """By today's ceilings; for a knob or derived value that is gone, by those of then."""
    now, then = history.definition, history.definitions[run.definition]
    gone = {
        name: mark
        for name, mark in _marks(then, setting).items()
        if name not in now.knobs and name not in now.derived
    }
    return _marks(now, setting) | gone


def _marks(definition: Definition, setting: Mapping[str, Value]) -> dict[str, Mark]:
    past = past_hard_stop(definition, setting)
    marks = {}
    for name in above_everyday(definition, setting):
        noun = definition.knobs.get(name) or definition.derived[name]
        last = noun.ceilings.last if name in past else None
        marks[name] = Mark(noun.ceilings.everyday, last, noun.ceilings.hard_stop is not None)
    return marks
