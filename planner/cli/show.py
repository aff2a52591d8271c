"""`planner show`."""

from typing import Annotated

import typer

from planner.cli.arguments import Json, Name, StudyName
from planner.cli.console import out, out_json, width
from planner.cli.next import recommendations
from planner.cli.studies import open_study

_LAST = 15
"""Runs listed unless all are asked for."""


def command(
    name: Name = None,
    study: StudyName = None,
    everything: Annotated[bool, typer.Option("--all", help="List every run.")] = False,
    json: Json = False,
) -> None:
    """Edges with intervals, the setting to keep, runs, minutes, ceilings, and whether to stop."""
    from planner.report.text.documents import json_text, standing_document
    from planner.report.text.show import standing_text
    from planner.report.text.standing import Standing

    opened = open_study(name or study)
    best, everyday = recommendations(opened.study)
    standing = Standing(
        history=opened.study.history,
        edges=opened.study.edges(),
        best=best,
        everyday=everyday,
        closing=opened.study.closing(),
        head=opened.study.head,
    )
    if json:
        out_json(json_text(standing_document(standing)))
    else:
        out(standing_text(standing, 0 if everything else _LAST, opened.suffix, width()))
