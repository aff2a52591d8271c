"""The table of all runs: frozen history in, headings and rows of text out."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.domain.definition import Definition
from planner.domain.knob import Value
from planner.domain.run import Run
from planner.gate import above_everyday
from planner.history import History
from planner.run_table import FIXED, Part, guarded, heading, number_text

Cells = dict[str, str]
"""The cells of one row by heading; empty ones left out."""


@dataclass(frozen=True, slots=True)
class RunTable:
    """Headings, and one row a run, every cell a text."""

    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def run_table(history: History) -> RunTable:
    """Every run in order of recording, void ones included.

    A knob, derived value or reading has a column for each unit that it was ever recorded in.
    """
    rows = [_cells(history, run) for run in history.runs]
    named = dict.fromkeys(_columns(history))
    for cells in rows:  # readings and sub-scores that no definition lists
        named |= dict.fromkeys(name for name in cells if name not in FIXED)
    order = list(Part)
    headings = FIXED + tuple(sorted(named, key=lambda text: order.index(_part(text))))
    return RunTable(headings, tuple(tuple(c.get(h, "") for h in headings) for c in rows))


def derived_values(definition: Definition, run: Run) -> dict[str, float]:
    """The derived values of what really ran, by the definition that was in force."""
    numbers = definition.numbers({**run.settings, **run.ran})
    return {name: numbers[name] for name in definition.derived if name in numbers}


def _part(text: str) -> Part:
    return Part(text.partition(" ")[0])


def _columns(history: History) -> Iterator[str]:
    """Headings that follow from the definitions: today's first, then those that runs speak of."""
    used = {run.definition for run in history.runs}
    older = [history.definitions[index] for index in sorted(used, reverse=True)]
    for definition in [history.definition, *older]:
        for name, knob in definition.knobs.items():
            yield heading(Part.SET, name, knob.unit)
            yield heading(Part.RAN, name, knob.unit)
        for name, derived in definition.derived.items():
            yield heading(Part.DERIVED, name, derived.unit)
        for name, reading in definition.readings.items():
            yield heading(Part.READING, name, reading.unit)
        for workload in definition.workloads.values():
            yield from (heading(Part.SUB, name) for name, _ in workload.subscores)


def _cells(history: History, run: Run) -> Cells:
    definition = history.definitions[run.definition]
    return {**_fixed(history, run), **_settings(definition, run), **_measured(definition, run)}


def _fixed(history: History, run: Run) -> Cells:
    return {
        "run": str(run.number),
        "time": guarded(run.time),
        "bench": guarded(run.bench),
        "outcome": run.outcome.value,
        "workload": guarded(run.workload),
        "run_minutes": number_text(run.run_minutes),
        "minutes": number_text(run.minutes),
        "failed_after_s": _optional(run.failed_after_s),
        "errors": _optional(run.errors),
        "score": _optional(run.score),
        "capped": run.capped.value if run.capped else "",
        "symptom": guarded(run.symptom),
        "suspect": guarded(run.suspect),
        "note": guarded(run.note),
        "boot": str(run.boot),
        "cold": _yes(run.cold),
        "amended": str(run.amended),
        "proposed": _yes(run.asked is not None),
        "at_own_risk": " ".join(above_everyday(history.definition, run.ran)),
        "definition": str(run.definition + 1),
        "changes_told": str(run.epoch),
        "origin": guarded(run.origin),
    }


def _settings(definition: Definition, run: Run) -> Cells:
    cells = {}
    for name, knob in definition.knobs.items():
        if name in run.settings:
            cells[heading(Part.SET, name, knob.unit)] = _value(run.settings[name])
            if run.ran.get(name, run.settings[name]) != run.settings[name]:
                cells[heading(Part.RAN, name, knob.unit)] = _value(run.ran[name])
    return cells


def _measured(definition: Definition, run: Run) -> Cells:
    cells = {
        heading(Part.DERIVED, name, definition.derived[name].unit): number_text(value)
        for name, value in derived_values(definition, run).items()
    }
    for name, value in run.readings.items():
        known = definition.readings.get(name)
        cells[heading(Part.READING, name, known.unit if known else "")] = number_text(value)
    for name, value in run.subscores.items():
        cells[heading(Part.SUB, name)] = number_text(value)
    return cells


def _value(value: Value) -> str:
    return guarded(value) if isinstance(value, str) else number_text(value)


def _optional(value: float | None) -> str:
    return "" if value is None else number_text(value)


def _yes(fact: bool) -> str:
    return "yes" if fact else "no"
