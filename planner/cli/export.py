"""`planner export`."""

from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from planner.cli.arguments import Json, Name, StudyName, out_file
from planner.cli.console import out, out_exactly, out_json, to_terminal
from planner.cli.studies import find_study, open_study
from planner.errors import InputError

if TYPE_CHECKING:
    from planner.history import History

FILE = "runs.csv"
"""What is written into the study's folder."""
_ENDINGS = (".csv", ".json")
_STDOUT = "-"


def command(
    name: Name = None,
    study: StudyName = None,
    file: Annotated[
        str | None,
        out_file(
            "A .csv or .json file, or - for standard output.  [default: runs.csv in the"
            " study's folder; standard output where that is no terminal]"
        ),
    ] = None,
    json: Json = False,
    optuna: Annotated[
        str | None,
        typer.Option(
            "--optuna",
            metavar="FILE",
            help="A new storage of Optuna: .db for SQLite, .journal for its journal.",
        ),
    ] = None,
) -> None:
    """Write all runs as a table for spreadsheets and programs, void ones included."""
    if optuna is not None:
        if file is not None or json:
            raise InputError(f"--optuna {optuna}: expected without --out and --json")
        _write_optuna(open_study(name or study).study.history, Path(optuna))
        out(optuna)
        return
    _check(file, json)
    opened, folder = open_study(name or study), find_study(name or study)
    history = opened.study.history
    if file is None and not json and to_terminal():
        file = str(folder / FILE)
    if file is None or file == _STDOUT:
        _print(history, json)
    else:
        write_export(history, Path(file))
        out(file)


def write_export(history: "History", file: Path) -> None:
    """Write all runs into a .csv or .json file; an earlier export there is replaced as a whole.

    Raises:
        InputError: the file holds something else, or cannot be written.
    """
    as_json = file.suffix.lower() == ".json"
    # The mark tells a spreadsheet that it is UTF-8; programs read it away (docs/run-table.md).
    content = (_json(history) + "\n").encode() if as_json else _csv(history).encode("utf-8-sig")
    part = file.with_name(f"{file.name}.part")
    try:
        _refuse_other(file, content)
        file.parent.mkdir(parents=True, exist_ok=True)
        part.write_bytes(content)
        part.replace(file)
    except OSError as error:
        with suppress(OSError):
            part.unlink()
        raise InputError(f"--out {file}: cannot be written ({error.strerror})") from None


def _write_optuna(history: "History", file: Path) -> None:
    from planner.exchange.storage import write_trials
    from planner.exchange.writing import trials_of

    write_trials(file, history.definition.goal.name, trials_of(history))


def _check(file: str | None, json: bool) -> None:
    if file is None or file == _STDOUT:
        return
    ending = Path(file).suffix.lower()
    if ending not in _ENDINGS:
        raise InputError(
            f"--out {file}: expected a file ending in {' or '.join(_ENDINGS)}, or {_STDOUT}"
        )
    if json and ending != ".json":
        raise InputError(f"--json with --out {file}: expected a file ending in .json")


def _print(history: "History", json: bool) -> None:
    if json:
        out_json(_json(history))
    else:
        out_exactly(_csv(history))


def _csv(history: "History") -> str:
    from planner.report.tables.csv_text import csv_text
    from planner.report.tables.runs import run_table

    return csv_text(run_table(history))


def _json(history: "History") -> str:
    from planner.report.tables.document import runs_document
    from planner.report.text.json_form import json_text

    return json_text(runs_document(history))


def _refuse_other(file: Path, content: bytes) -> None:
    """An export is written over; a notebook that somebody named by a slip is not."""
    start = content[:24]
    if file.exists() and file.stat().st_size and not file.read_bytes().startswith(start):
        raise InputError(f"--out {file}: holds something else than an export, expected a new name")
