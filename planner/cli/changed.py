"""`planner changed`."""

from typing import Annotated

import typer

from planner.cli.arguments import StudyName
from planner.cli.console import out
from planner.cli.studies import open_study


def command(
    what: Annotated[str, typer.Argument(metavar="WHAT", help="In a few words, quoted.")],
    study: StudyName = None,
    group: Annotated[
        list[str] | None,
        typer.Option("--group", metavar="G", help="Only this group is affected. Repeatable."),
    ] = None,
) -> None:
    """Tell of new firmware, a remount, another sample: runs from before count for less."""
    opened = open_study(study)
    groups = group or []
    opened.study.changed(what, groups)
    whose = f"of {', '.join(groups)} " if groups else ""
    out(f"Noted: {what}. Runs {whose}from before count for less from now on.")
