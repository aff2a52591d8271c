"""`planner compare`."""

from typing import Annotated

import typer

from planner.cli.arguments import StudyName
from planner.cli.console import out, width
from planner.cli.studies import open_study


def command(
    first: Annotated[int, typer.Argument(metavar="RUN", help="A run at the setting A.")],
    second: Annotated[int, typer.Argument(metavar="RUN", help="A run at the setting B.")],
    study: StudyName = None,
) -> None:
    """Whether one setting scores more than another: all repeats at the settings of two runs."""
    from planner.models.scores.comparison import compared
    from planner.report.text.compare import compare_text

    history = open_study(study).study.history
    out(compare_text(history.definition, compared(history, first, second), width()))
