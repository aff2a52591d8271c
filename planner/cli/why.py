"""`planner why`."""

from typing import Annotated

import typer

from planner.cli.arguments import Json, StudyName
from planner.cli.console import out, out_json, width
from planner.cli.studies import open_study


def command(
    run: Annotated[int, typer.Argument(help="The failed run's number.")],
    study: StudyName = None,
    json: Json = False,
) -> None:
    """Which knob a failed run is blamed on, and which single run would tell best."""
    from planner.report.text.documents import blame_document
    from planner.report.text.json_form import json_text
    from planner.report.text.why import why_text

    opened = open_study(study)
    blame = opened.study.blame(run)
    if json:
        out_json(json_text(blame_document(blame)))
    else:
        out(why_text(opened.study.history, blame, width()))
