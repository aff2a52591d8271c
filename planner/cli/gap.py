"""`planner gap`."""

from typing import Annotated

import typer

from planner.cli.arguments import Json, Name, StudyName, WorkloadName
from planner.cli.console import out, out_json, width
from planner.cli.studies import open_as_edited
from planner.domain.quantity import parse_number
from planner.errors import InputError


def command(
    name: Name = None,
    study: StudyName = None,
    beat: Annotated[
        list[str] | None,
        typer.Option(
            "--beat",
            metavar="X",
            help="A score to beat, beside those in study.toml; as 2400 or theirs=2400. Repeatable.",
        ),
    ] = None,
    workload: WorkloadName = None,
    json: Json = False,
) -> None:
    """How far it is to the scores to beat, whether that is noise, and what would close the gap."""
    from planner.report.text.gap import gap_text

    opened = open_as_edited(name or study)
    table = opened.study.gap(workload, list(map(_target, beat or [])))
    history = opened.study.history
    if table is None:
        raise InputError(
            f"{workload or history.definition.workload.name}: no claimable score is on record,"
            f" expected one: planner record pass --score X{opened.suffix}"
        )
    if json:
        from planner.report.text.json_form import json_text
        from planner.report.text.score_documents import gap_document

        out_json(json_text(gap_document(history.definition, table)))
    else:
        out(gap_text(history.definition, table, width()))


def _target(given: str) -> tuple[str, float]:
    name, sign, value = given.rpartition("=")
    score = parse_number(value, "", f"--beat {name}" if sign else "--beat")
    if score <= 0:
        raise InputError(f"--beat {given}: expected a score above 0")
    return name.strip() if sign else value.strip(), score
