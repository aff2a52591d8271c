"""The whole file checked before anything is written: what would be recorded, or every fault."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from planner.domain.knob import Setting
from planner.domain.outcome import Outcome
from planner.domain.run import Run
from planner.history import History
from planner.importing.boots import BootTrail
from planner.importing.columns import columns_of, known_heading
from planner.importing.faults import Fault, refusal
from planner.importing.identities import Identities, on_record
from planner.importing.raw import RawTable, read_raw
from planner.importing.rehearsal import Rehearsal
from planner.importing.rows import ToldRun, told_run


@dataclass(frozen=True, slots=True)
class PlannedRun:
    """A run to record."""

    line: int
    outcome: Outcome
    settings: Setting
    ran: Setting
    facts: Mapping[str, Any]
    """As `Study.record` takes them."""


@dataclass(frozen=True, slots=True)
class Known:
    """A row whose run is on record already."""

    line: int
    number: int
    """Of the run on record."""
    differs: bool
    """Whether the row tells otherwise than the record by now."""
    by_content: bool
    """Whether it is known by nothing but what it tells."""


@dataclass(frozen=True, slots=True)
class Plan:
    """What an import would do."""

    file: str
    runs: tuple[PlannedRun, ...]
    known: tuple[Known, ...]
    at_stock: Mapping[str, int]
    """Knobs that so many of the rows to record do not name, and that are taken to be at stock."""
    older: tuple[PlannedRun, ...]
    """Those from before a change of the machine that the file tells of: full evidence here."""


def plan_import(history: History, raw: bytes, file: str, label: str = "") -> Plan:
    """Check every row of a CSV file against a study and say what is to be recorded.

    `file` opens messages; `label` tells it from other files with rows alike.

    Raises:
        RecordError: naming every fault by line, column, value and what was expected.
    """
    definition = history.definition
    table = read_raw(raw, file, lambda text: known_heading(definition, text))
    faults: list[Fault] = []
    told = _told(history, table, faults)
    planned, known = _sorted_out(history, told, Identities(label), faults)
    if faults:
        raise refusal(file, faults)
    by_line = {run.line: run for run in planned}
    taken = [run for run in told if run.line in by_line]
    latest = max((run.changes_told for run in told), default=0)
    older = tuple(by_line[run.line] for run in taken if run.changes_told < latest)
    return Plan(file, tuple(planned), tuple(known), _at_stock(history, taken), older)


def _told(history: History, table: RawTable, faults: list[Fault]) -> list[ToldRun]:
    columns, wrong = columns_of(history.definition, table)
    faults += wrong
    if wrong:
        return []
    told = []
    for row in table.rows:
        if len(row.cells) != len(table.headings):
            cells = f"{len(row.cells)} cells, expected {len(table.headings)} as in the headings"
            faults.append(Fault(row.line, cells))
        elif (run := told_run(history.definition, columns, row, faults)) is not None:
            told.append(run)
    return told


def _sorted_out(
    history: History, told: Iterable[ToldRun], identities: Identities, faults: list[Fault]
) -> tuple[list[PlannedRun], list[Known]]:
    """The runs that are new and those that are on record."""
    recorded, rehearsal = on_record(history), Rehearsal(history)
    last = history.evidence[-1] if history.evidence else None
    trail = BootTrail((1, False) if last is None and history.boot == 1 else None)
    planned: list[PlannedRun] = []
    known: list[Known] = []
    lines: dict[str, int] = {}
    for run in told:
        origin, by_content = identities.of(run)
        if (first := lines.setdefault(origin, run.line)) != run.line:
            faults.append(Fault(run.line, f"{origin}: stands on line {first} too, expected once"))
        elif (there := recorded.get(origin)) is not None:
            known.append(Known(run.line, there.number, _differs(run, there), by_content))
            if there is last and not planned:
                trail.after(run)
        else:
            facts = {**run.facts, "boot": trail.start_of(run), "origin": origin}
            trail.after(run)
            faults += rehearsal.faults(run, facts)
            planned.append(PlannedRun(run.line, run.outcome, run.settings, run.ran, facts))
    return planned, known


def _differs(told: ToldRun, run: Run) -> bool:
    return (
        told.outcome is not run.outcome
        or told.facts.get("score", run.score) != run.score
        or any(run.ran.get(name, value) != value for name, value in told.ran.items())
    )


def _at_stock(history: History, taken: Sequence[ToldRun]) -> dict[str, int]:
    counted = {
        name: sum(name not in run.named for run in taken) for name in history.definition.knobs
    }
    return {name: count for name, count in counted.items() if count}
