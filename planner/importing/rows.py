"""What the rows of a table tell of runs."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from planner.domain.definition import Definition
from planner.domain.knob import Setting, Value
from planner.domain.outcome import Outcome
from planner.errors import InputError, RecordError
from planner.importing.columns import Column
from planner.importing.faults import Fault
from planner.importing.raw import RawRow
from planner.run_table import unguarded

_ELSEWHERE = ("run", "time", "bench", "origin")
_NO_FACTS = ("settings", "outcome", "boot", "cold", "changes_told", *_ELSEWHERE)


@dataclass(frozen=True, slots=True)
class ToldRun:
    """A run as a row tells of it."""

    line: int
    outcome: Outcome
    settings: Setting
    """A value for every knob: the ones named, the others at stock."""
    named: Mapping[str, Value]
    """The knobs that the row names."""
    facts: Mapping[str, Any]
    """Further facts as `Study.record` takes them."""
    boot: int | str | None = None
    """Number of the boot that it ran on, or how the machine was started for it."""
    cold: bool | None = None
    """Whether that boot was a cold one."""
    elsewhere: Mapping[str, str] = field(default_factory=dict)
    """run, time, bench and origin, as far as told."""
    changes_told: int = 0
    """How many changes of the machine had been told before it."""
    headings: Mapping[tuple[str, str], str] = field(default_factory=dict)
    """Fact and name: the heading that told it."""

    @property
    def ran(self) -> Setting:
        """What really ran."""
        return {**self.settings, **self.facts.get("actual", {})}


def told_run(
    definition: Definition, columns: Sequence[Column], row: RawRow, faults: list[Fault]
) -> ToldRun | None:
    """The run that a row tells of; None where it has faults, which are added to `faults`."""
    before = len(faults)
    told: dict[str, Any] = {}
    headings: dict[tuple[str, str], str] = {}
    for column in columns:
        cell = unguarded(row.cells[column.place])
        if not (cell if column.verbatim else cell.strip()):
            continue
        try:
            _take(column, cell, told, headings)
        except InputError as error:
            faults.append(Fault(row.line, str(error)))
    if len(faults) == before and "outcome" not in told:
        expected = ", ".join(Outcome)
        faults.append(Fault(row.line, f"column 'outcome' is empty: expected one of {expected}"))
    return _run(definition, row.line, told, headings) if len(faults) == before else None


def _take(
    column: Column, cell: str, told: dict[str, Any], headings: dict[tuple[str, str], str]
) -> None:
    where = f"column {column.heading!r}"
    key = (column.fact, column.name)
    if key in headings:
        raise RecordError(f"{where}: column {headings[key]!r} tells it too, expected one of them")
    headings[key] = column.heading
    value = column.read(cell, where)
    if column.name:
        told.setdefault(column.fact, {})[column.name] = value
    else:
        told[column.fact] = value


def _run(
    definition: Definition,
    line: int,
    told: Mapping[str, Any],
    headings: Mapping[tuple[str, str], str],
) -> ToldRun:
    named: dict[str, Value] = told.get("settings", {})
    return ToldRun(
        line=line,
        outcome=Outcome(told["outcome"]),
        settings={**definition.stock, **named},
        named=named,
        facts={fact: value for fact, value in told.items() if fact not in _NO_FACTS},
        boot=told.get("boot"),
        cold=told.get("cold"),
        elsewhere={n: told[n] for n in _ELSEWHERE if n in told},
        changes_told=told.get("changes_told", 0),
        headings=headings,
    )
