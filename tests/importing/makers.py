"""Tables of runs for tests: exported from a study, taken into another."""

import tomllib
from typing import Any

import pytest

from planner import Study
from planner.errors import RecordError
from planner.importing.plan import Plan, plan_import
from planner.importing.recording import record_planned
from planner.report.tables.csv_text import csv_text
from planner.report.tables.runs import RunTable, run_table
from tests.domain.makers import clock, mode, ratio, tables, volts

Tables = dict[str, Any]


def lab(**study: Any) -> Tables:
    """A definition with a knob, reading, derived value and sub-score of every kind."""
    return tables(
        clock(group="core"),
        volts(group="core", supports=["clock"], everyday=1.25, own_risk=1.3, hard_stop=1.35),
        ratio(),
        mode(choices=["auto", 1, 2.5], stock="auto"),
        study=study,
        derived=[{"name": "fabric", "unit": "MHz", "product": ["clock", "ratio"]}],
        reading=[{"name": "hot", "unit": "C", "stop": 95}, {"name": "room", "unit": "C"}],
        workload=[
            {"name": "load", "minutes": 10, "subscores": ["shade", "pack [a]"]},
            {"name": "short", "minutes": 2},
        ],
    )


def csv_of(study: Study) -> str:
    """A study's export."""
    return csv_text(run_table(study.history))


def planned(study: Study, text: str | bytes, label: str = "") -> Plan:
    """What an import would do."""
    raw = text if isinstance(text, bytes) else text.encode()
    return plan_import(study.history, raw, "runs.csv", label)


def take(study: Study, text: str | bytes, label: str = "") -> list[int]:
    """Import; the numbers of the runs."""
    return [run.number for run in record_planned(study, planned(study, text, label))]


def copied(study: Study) -> Study:
    """A fresh study of the same definition that the export was taken into."""
    other = Study.create(tomllib.loads(study.history.definition.text))
    take(other, csv_of(study))
    return other


def rows(table: RunTable) -> list[dict[str, str]]:
    """The table's rows by heading."""
    return [dict(zip(table.headings, row, strict=True)) for row in table.rows]


def refused(study: Study, text: str | bytes) -> str:
    """What is said of a file that is not taken; nothing is written."""
    head = study.head
    with pytest.raises(RecordError) as caught:
        take(study, text)
    assert study.head == head
    return str(caught.value)
