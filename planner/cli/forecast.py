"""`planner forecast`."""

from typing import Annotated

import typer

from planner.cli.arguments import Json, Name, StudyName
from planner.cli.console import out, out_json, width
from planner.cli.studies import open_study


def command(
    name: Name = None,
    study: StudyName = None,
    minutes: Annotated[
        float | None,
        typer.Option("--minutes", min=1, max=1000, help="How far ahead; else what is left."),
    ] = None,
    json: Json = False,
) -> None:
    """How the best score may rise from here, and what another half hour is worth."""
    from planner.report.text.documents import forecast_document
    from planner.report.text.forecast import forecast_text
    from planner.report.text.json_form import json_text

    opened = open_study(name or study)
    forecast = opened.study.forecast(minutes)
    history = opened.study.history
    if json:
        out_json(json_text(forecast_document(history, forecast)))
    else:
        out(forecast_text(history, forecast, width()))
