"""`planner compare`."""

from typing import Annotated

import typer

from planner.cli.arguments import Json, StudyName
from planner.cli.console import out, out_json, width
from planner.cli.studies import open_study


def command(
    first: Annotated[int, typer.Argument(metavar="RUN", help="A run at the setting A.")],
    second: Annotated[int, typer.Argument(metavar="RUN", help="A run at the setting B.")],
    study: StudyName = None,
    json: Json = False,
) -> None:
    """Whether one setting scores more than another: all repeats at the settings of two runs."""
    from planner.models.scores.comparison import compared
    from planner.report.text.compare import compare_text

    history = open_study(study).study.history
    found = compared(history, first, second)
    if json:
        from planner.report.text.json_form import json_text
        from planner.report.text.score_documents import compare_document

        out_json(json_text(compare_document(history.definition, found)))
    else:
        out(compare_text(history.definition, found, width()))
