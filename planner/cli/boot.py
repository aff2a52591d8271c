"""`planner boot`."""

from enum import StrEnum
from typing import Annotated

import typer

from planner.cli.arguments import StudyName
from planner.cli.console import out
from planner.cli.studies import open_study


class Start(StrEnum):
    """How the machine was started."""

    COLD = "cold"
    WARM = "warm"


def command(
    start: Annotated[
        Start,
        typer.Argument(metavar="cold|warm", help="Cold: its power was off.", show_default=False),
    ],
    study: StudyName = None,
) -> None:
    """Tell that the machine was started anew: live changes are lost, memory trained afresh."""
    opened = open_study(study)
    opened.study.boot(cold=start is Start.COLD)
    out(f"Noted: a {start} boot. What was changed live is back at stock.")
