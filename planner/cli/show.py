"""`planner show`."""

from typing import TYPE_CHECKING, Annotated

import typer

from planner.cli.arguments import Json, Name, StudyName
from planner.cli.console import out, out_json, width
from planner.cli.next import recommendations
from planner.cli.studies import open_study

if TYPE_CHECKING:
    from planner.report.text.standing import Standing
    from planner.study import Study

LAST = 15
"""Runs listed unless all are asked for."""


def command(
    name: Name = None,
    study: StudyName = None,
    everything: Annotated[bool, typer.Option("--all", help="List every run.")] = False,
    json: Json = False,
) -> None:
    """Edges with intervals, the setting to keep, runs, minutes, ceilings, and whether to stop."""
    opened = open_study(name or study)
    standing = standing_of(opened.study)
    if json:
        from planner.report.text.documents import standing_document
        from planner.report.text.json_form import json_text

        out_json(json_text(standing_document(standing)))
    else:
        from planner.report.text.show import standing_text

        out(standing_text(standing, 0 if everything else LAST, opened.suffix, width()))


def standing_of(study: "Study") -> "Standing":
    """All that the summary of a study shows."""
    from planner.report.text.standing import Standing

    best, everyday = recommendations(study)
    return Standing(
        history=study.history,
        edges=study.edges(),
        best=best,
        everyday=everyday,
        closing=study.closing(),
        head=study.head,
        frontier=study.frontier() if study.history.definition.goal.aim == "frontier" else None,
    )
