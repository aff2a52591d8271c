"""What the headings of a table mean in a study."""

import difflib
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from planner.domain.definition import Definition
from planner.domain.outcome import Capped, Outcome
from planner.domain.quantity import conversion
from planner.errors import RecordError
from planner.importing import cells
from planner.importing.cells import Reader, shown
from planner.importing.faults import Fault
from planner.importing.raw import RawTable
from planner.run_table import FIXED, Heading, Part, split_heading, unguarded

_UNITS = {"run_minutes": "min", "minutes": "min", "failed_after_s": "s", "errors": "", "score": ""}
_WORDS: Mapping[str, Reader] = {
    "outcome": cells.word(Outcome),
    "capped": cells.word(Capped),
    "workload": cells.label,
    "suspect": cells.label,
    "symptom": cells.text,
    "note": cells.text,
    "boot": cells.boot,
    "cold": cells.yes_or_no,
    "changes_told": cells.whole,
    "run": cells.short_text,
    "time": cells.short_text,
    "bench": cells.short_text,
    "origin": cells.text,
}
_FACTS = {
    Part.SET: "settings",
    Part.RAN: "actual",
    Part.READING: "readings",
    Part.SUB: "subscores",
}
_LONGEST = 120
"""Characters that a heading has at most: a word, a name, a unit."""
NOT_TAKEN = ("amended", "proposed", "at_own_risk", "definition")
"""Columns that follow from the others, or are told anew by the study that takes the runs in."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column that is taken in."""

    place: int
    heading: str
    fact: str
    """The fact of a run that it tells, or the name of a fixed column that tells none."""
    name: str
    """The knob, reading or sub-score; empty: the fact itself."""
    read: Reader
    verbatim: bool = False
    """Whether blanks say something, as in a text."""


def known_heading(definition: Definition, text: str) -> bool:
    """Whether a column of that heading can be taken in, or passed over."""
    return _meaning(definition, split_heading(unguarded(text))) is not None


def columns_of(definition: Definition, table: RawTable) -> tuple[list[Column], list[Fault]]:
    """The columns to take in, and what is wrong with the headings."""
    columns: list[Column] = []
    faults = _faults(table)
    for place, text in enumerate(table.headings):
        if not text.strip():
            continue
        try:
            column = _column(definition, place, text, table.separator == ";")
        except RecordError as error:
            faults.append(f"column {error}")
            continue
        if column is not None:
            columns.append(column)
    facts = {column.fact for column in columns}
    if "outcome" not in facts:
        faults.append("no column 'outcome', expected one with " + ", ".join(Outcome))
    elif not faults and facts.isdisjoint(("settings", "actual")):
        faults.append(
            "no column of a knob, so every run would be taken to be at stock: expected one of "
            + ", ".join(f"'set {name}'" for name in definition.knobs)
        )
    return columns, [Fault(table.line, fault) for fault in faults]


def _faults(table: RawTable) -> list[str]:
    counted = Counter(text.strip() for text in table.headings if text.strip())
    twice = [
        f"column {shown(text)} stands there {count} times, expected once"
        for text, count in counted.items()
        if count > 1
    ]
    nameless = [place for place, text in enumerate(table.headings) if not text.strip()]
    return twice + [
        f"column {place + 1} has cells and no heading"
        for place in nameless
        if any(cell.strip() for row in table.rows for cell in row.cells[place : place + 1])
    ]


def _column(definition: Definition, place: int, text: str, comma: bool) -> Column | None:
    split = split_heading(unguarded(text))
    meaning = _meaning(definition, split)
    if meaning is None or len(text) > _LONGEST:
        raise RecordError(f"{shown(text)} is not known, {_nearest(definition, text)}")
    part, unit = meaning
    if part is Part.DERIVED or split.name in NOT_TAKEN:
        return None
    if split.unit and (unit is None or conversion(split.unit, unit) is None):
        expected = unit or "none"
        raise RecordError(f"{shown(text)}: unit {split.unit!r} does not match, expected {expected}")
    if part is None and split.name in _WORDS:
        verbatim = split.name in ("symptom", "note")
        return Column(place, text.strip(), split.name, "", _WORDS[split.name], verbatim)
    read = cells.number(unit or "", split.unit or unit or "", comma)
    if part is None:
        return Column(place, text.strip(), split.name, "", read)
    knob = definition.knobs[split.name] if part in (Part.SET, Part.RAN) else None
    if knob is not None and knob.grid is None:
        return Column(place, text.strip(), _FACTS[part], knob.name, cells.choice(knob), True)
    return Column(place, text.strip(), _FACTS[part], split.name, read)


def _meaning(definition: Definition, split: Heading) -> tuple[Part | None, str | None] | None:
    """The part that it names and the unit of its numbers (None: no numbers); None: unknown."""
    part, name, _ = split
    if part is None:
        if name in FIXED:
            return None, _UNITS.get(name)
        part = _bare(definition, name)
    if part is Part.DERIVED:
        return part, definition.derived[name].unit if name in definition.derived else None
    if part in (Part.SET, Part.RAN):
        knob = definition.knobs.get(name)
        return None if knob is None else (part, knob.unit)
    if part is Part.READING:
        reading = definition.readings.get(name)
        return part, reading.unit if reading else split.unit
    return None if part is None else (part, "")


def _bare(definition: Definition, name: str) -> Part | None:
    """What a name without a word before it stands for."""
    if name in definition.knobs:
        return Part.SET
    if name in definition.readings:
        return Part.READING
    if name in definition.derived:
        return Part.DERIVED
    return Part.SUB if name in _subscores(definition) else None


def _subscores(definition: Definition) -> list[str]:
    return [name for w in definition.workloads.values() for name, _ in w.subscores]


def _nearest(definition: Definition, text: str) -> str:
    names = [*definition.knobs, *definition.readings, *_subscores(definition)]
    known = [*FIXED, *names, *(f"set {n}" for n in definition.knobs)]
    known += [f"ran {n}" for n in definition.knobs]
    known += [f"reading {n}" for n in definition.readings]
    short = text[:_LONGEST]
    close = difflib.get_close_matches(split_heading(short).name, known, n=1) or (
        difflib.get_close_matches(short, known, n=1)
    )
    if close:
        return f"did you mean {close[0]!r}?"
    return "expected a fact of a run, a knob or a reading: " + ", ".join([*FIXED[3:16], *names])
