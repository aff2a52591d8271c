"""`planner claim`."""

from typing import Annotated

import typer

from planner.cli.arguments import Json, Name, StudyName
from planner.cli.console import out, out_json, width
from planner.cli.studies import open_as_edited
from planner.domain.quantity import parse_number
from planner.errors import InputError


def command(
    name: Name = None,
    study: StudyName = None,
    target: Annotated[
        str | None, typer.Option("--target", metavar="P", help="Share of runs that pass, as 0.9.")
    ] = None,
    confidence: Annotated[
        str | None, typer.Option("--confidence", metavar="C", help="How sure to be, as 0.9.")
    ] = None,
    mean_hours: Annotated[
        str | None,
        typer.Option("--mean-hours", metavar="H", help="Hours between failures to be shown."),
    ] = None,
    json: Json = False,
) -> None:
    """What it takes to claim that the setting to keep holds, and how much of it is done."""
    from planner.models.edge import LEVEL
    from planner.models.plans import hours_for, plans_for
    from planner.report.text.confidence import plans_text
    from planner.report.text.documents import plans_document
    from planner.report.text.json_form import json_text

    opened = open_as_edited(name or study)
    definition, best = opened.study.history.definition, opened.study.recommendation()
    wanted = _share("--target", target, definition.goal.target)
    sure = _share("--confidence", confidence, definition.goal.confidence or LEVEL)
    plans = plans_for(best.claim, wanted, sure)
    hours = None
    if mean_hours is not None:
        mean = parse_number(mean_hours, "h", "--mean-hours")
        if not 0 < mean <= 1e6:
            raise InputError(f"--mean-hours {mean:g}: expected above 0 and at most 1000000")
        hours = hours_for(best.claim, mean, sure)
    if json:
        out_json(json_text(plans_document(opened.study.history, best, plans, hours)))
    else:
        out(plans_text(definition, best, plans, hours, width()))


def _share(flag: str, given: str | None, default: float) -> float:
    if given is None:
        return default
    share = parse_number(given, "", flag)
    if not 0.5 <= share <= 0.9999:
        raise InputError(f"{flag} {share:g}: expected from 0.5 to 0.9999, as 0.9 for nine in ten")
    return share
