"""`planner import`."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from planner.cli.arguments import StudyName
from planner.cli.console import ANSWER_OWED, out, talk, width
from planner.cli.studies import DEFINITION, find_study, open_study, take_over
from planner.errors import InputError, PlannerError

if TYPE_CHECKING:
    from planner.history import History
    from planner.importing.plan import Plan
    from planner.study import Study

_STDIN = "-"
_LONG = 1000
"""So many runs take long enough to say how far it is."""
_LONGEST_NAME = 60


def command(
    file: Annotated[
        str,
        typer.Argument(
            metavar="FILE", help="A CSV table of runs, - for standard input; or as --optuna says."
        ),
    ],
    study: StudyName = None,
    label: Annotated[
        str,
        typer.Option(
            "--from",
            metavar="NAME",
            help="Tells the file from another one with rows alike, as 'evening 2'.",
            show_default=False,
        ),
    ] = "",
    dry_run: Annotated[
        bool,
        typer.Option("--dry-run", help="Check the file, show what it holds, write nothing."),
    ] = False,
    optuna: Annotated[
        bool, typer.Option("--optuna", help="FILE is a storage of Optuna, .db or .journal.")
    ] = False,
) -> None:
    """Record runs made elsewhere, from a CSV file: all of them or none.

    Exit code 4: a proposal is pending, so tell first how that ended.
    """
    from planner.importing.plan import plan_import

    if len(label) > _LONGEST_NAME or not label.isprintable():
        raise InputError(f"--from {label!r}: expected at most {_LONGEST_NAME} printable characters")
    raw, name = _trials(file) if optuna else _read(file)
    opened, folder = open_study(study), find_study(study)
    history = _as_edited(opened.study.history, folder)
    plan = plan_import(history, raw, name, label.strip())
    if dry_run:
        from planner.report.text.imported import dry_run_text

        out(dry_run_text(plan, history.definition, width()))
        return
    if plan.runs:
        _refuse_pending(opened.study, opened.suffix)
        if history is not opened.study.history:
            take_over(opened.study)
    numbers = _record(opened.study, plan)
    from planner.report.text.imported import imported_text

    out(imported_text(plan, numbers, opened.study.history, width()))


def _trials(file: str) -> tuple[bytes, str]:
    """The trials of a storage as a CSV table, and what messages about it begin with."""
    from planner.exchange.reading import table_of
    from planner.exchange.storage import read_trials
    from planner.report.tables.csv_text import csv_text

    study, trials = read_trials(Path(file))
    return csv_text(table_of(study, trials)).encode(), f"trials of {file}"


def _read(file: str) -> tuple[bytes, str]:
    from planner.importing.raw import MAX_BYTES

    try:
        if file == _STDIN:
            return sys.stdin.buffer.read(MAX_BYTES + 1), "standard input"
        with Path(file).open("rb") as opened:
            return opened.read(MAX_BYTES + 1), file
    except OSError as error:
        raise InputError(f"import {file}: cannot be read ({error.strerror})") from None


def _as_edited(history: "History", folder: Path) -> "History":
    """The history under study.toml as it stands now, without taking that over yet."""
    if not (folder / DEFINITION).exists():
        return history
    from dataclasses import replace

    from planner.domain.parse import parse_text
    from planner.entries.definitions import defined_entry
    from planner.store import definition_text, store_settings

    text = definition_text(folder)
    shared = store_settings(folder).server is not None  # a file may be out of date, not edited
    if text in [d.text for d in (history.definitions if shared else history.definitions[-1:])]:
        return history
    edited = parse_text(defined_entry(history, text)["text"])
    return replace(history, definitions=(*history.definitions, edited))


def _refuse_pending(study: "Study", suffix: str) -> None:
    if (pending := study.pending) is not None:
        talk(
            f"Run {pending.number} is pending: tell first how it ended, so that no row of the file"
            f" is taken for its answer. If it was not made: planner record void{suffix}\n"
            "Nothing was recorded."
        )
        raise typer.Exit(ANSWER_OWED)


def _record(study: "Study", plan: "Plan") -> list[int]:
    """Numbers of the runs, as recorded; says how far it came if it cannot go on."""
    from planner.importing.recording import record_planned

    numbers: list[int] = []
    total = len(plan.runs)
    try:
        for run in record_planned(study, plan):
            numbers.append(run.number)
            if len(numbers) % _LONG == 0 and len(numbers) < total:
                talk(f"{len(numbers)} of {total} recorded")
    except (PlannerError, KeyboardInterrupt):
        talk(
            f"{len(numbers)} of {total} runs are recorded and stay so; the same command goes on"
            " from there."
        )
        raise
    return numbers
