"""`planner check`."""

import re
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from planner.cli.arguments import Json, Name, StudyName
from planner.cli.console import DAMAGED, out, out_json, width
from planner.cli.studies import find_study, mirror_of, warn_afterwards
from planner.errors import InputError

if TYPE_CHECKING:
    from planner.report.text.checked import Checked

_HEAD = re.compile(r"(\d{1,15}):([0-9a-f]{12,64})")


def command(
    name: Name = None,
    study: StudyName = None,
    repair: Annotated[
        bool,
        typer.Option("--repair", help="Set spoilt lines of the ledger aside; a copy is kept."),
    ] = False,
    head: Annotated[
        str | None,
        typer.Option("--head", metavar="SEQ:HASH", help="Whether the ledger still holds it."),
    ] = None,
    json: Json = False,
) -> None:
    """Check study.toml and take it over, verify the ledger, name ceilings left blank.

    Exit code 6: the ledger is damaged, or does not hold the head given.
    """
    from planner.report.text.checked import checked_text
    from planner.report.text.documents import checked_document
    from planner.report.text.json_form import json_text

    checked = _check(find_study(name or study), repair, head)
    if json:
        out_json(json_text(checked_document(checked)))
    else:
        out(checked_text(checked, width()))
    if not checked.head_holds:
        raise typer.Exit(DAMAGED)


def _check(folder: Path, repair: bool, head: str | None) -> "Checked":
    from planner.cli.repairing import repair_ledger
    from planner.report.text.checked import Checked
    from planner.study import Study

    asked = _parse_head(head)
    repaired = repair_ledger(folder) if repair else None
    study = Study.open(folder, mirror_of(folder))
    study.hold()
    warn_afterwards(study)
    adopted = study.adopt()
    study.closing()  # refuses what this version cannot search
    return Checked(
        history=study.history,
        head=study.head,
        adopted=adopted,
        repaired=repaired,
        asked_head=head,
        head_holds=asked is None or study.holds(*asked),
    )


def _parse_head(given: str | None) -> tuple[int, str] | None:
    if given is None:
        return None
    match = _HEAD.fullmatch(given.strip().lower())
    if match is None:
        raise InputError(
            f"--head {given!r}: expected SEQ:HASH as show prints it, with 12 to 64 hex digits"
        )
    return int(match[1]), match[2]
