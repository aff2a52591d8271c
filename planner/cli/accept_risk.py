"""`planner accept-risk`."""

from typing import Annotated

import typer

from planner.cli.arguments import StudyName
from planner.cli.console import ANSWER_OWED, interactive, out, talk, width
from planner.cli.studies import open_study


def command(
    knob: Annotated[str, typer.Argument(metavar="KNOB", help="Knob or derived value.")],
    study: StudyName = None,
    up_to: Annotated[
        str | None,
        typer.Option("--up-to", metavar="VALUE", help="The highest value that you accept."),
    ] = None,
) -> None:
    """Let proposals rise above the everyday ceiling of a knob, at your own risk.

    Exit code 4: the value is to be typed, and there is no terminal to type it on.
    """
    from planner.report.text.ceilings import accepted_text, caution_text

    opened = open_study(study)
    definition = opened.study.history.definition
    ceilings = definition.guarded.get(knob)
    if ceilings is not None and ceilings.own_risk is not None:
        talk(caution_text(definition, knob, ceilings, width()))
        if up_to is None:
            up_to = _typed(knob)
    opened.study.accept_risk(knob, up_to or "")
    out(accepted_text(opened.study.history, knob, width()))


def _typed(knob: str) -> str:
    if not interactive():
        talk("Nothing was accepted: add --up-to VALUE.")
        raise typer.Exit(ANSWER_OWED)
    return str(typer.prompt(f"Type the value up to which you accept the risk for {knob}", err=True))
