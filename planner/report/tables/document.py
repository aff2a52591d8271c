"""Runs as plain tables for JSON: keys stay, new ones may join them."""

from typing import Any

from planner.domain.definition import Definition
from planner.domain.run import Run
from planner.gate import above_everyday
from planner.history import History
from planner.report.tables.runs import derived_values


def run_document(definition: Definition, run: Run) -> dict[str, Any]:
    """One run; what lies above an everyday ceiling is judged by `definition`."""
    return {
        "run": run.number,
        "outcome": run.outcome.value,
        "settings": dict(run.settings),
        "ran": dict(run.ran),
        "workload": run.workload,
        "run_minutes": run.run_minutes,
        "minutes": run.minutes,
        "failed_after_s": run.failed_after_s,
        "errors": run.errors,
        "score": run.score,
        "subscores": dict(run.subscores),
        "readings": dict(run.readings),
        "capped": None if run.capped is None else run.capped.value,
        "symptom": run.symptom,
        "suspect": run.suspect,
        "note": run.note,
        "boot": run.boot,
        "cold": run.cold,
        "proposed": run.asked is not None,
        "above_everyday": list(above_everyday(definition, run.ran)),
        "amended": run.amended,
        "bench": run.bench,
        "time": run.time,
    }


def runs_document(history: History) -> dict[str, Any]:
    """For `export --json`: every run, with the definition that was in force."""
    return {
        "study": history.definition.goal.name,
        "definitions": [
            _definition(number, definition)
            for number, definition in enumerate(history.definitions, 1)
        ],
        "runs": [_exported(history, run) for run in history.runs],
    }


def _exported(history: History, run: Run) -> dict[str, Any]:
    return {
        **run_document(history.definition, run),
        "derived": derived_values(history.definitions[run.definition], run),
        "definition": run.definition + 1,
        "changes_told": run.epoch,
        "origin": run.origin,
    }


def _definition(number: int, definition: Definition) -> dict[str, Any]:
    return {
        "number": number,
        "units": {
            "settings": {name: knob.unit for name, knob in definition.knobs.items()},
            "derived": {name: noun.unit for name, noun in definition.derived.items()},
            "readings": {name: noun.unit for name, noun in definition.readings.items()},
        },
        "text": definition.text,
    }
