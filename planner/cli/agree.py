"""`planner agree`."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from planner.cli.arguments import Name, StudyName
from planner.cli.console import ANSWER_OWED, interactive, out, talk, width
from planner.cli.studies import find_study, open_study
from planner.errors import InputError

if TYPE_CHECKING:
    from planner.domain.definition import Definition
    from planner.drive.agreement import Terms


def command(
    name: Name = None,
    study: StudyName = None,
    code: Annotated[
        str | None,
        typer.Option("--code", metavar="CODE", help="Agree to the commands that have this code."),
    ] = None,
) -> None:
    """See all that a study may run, and agree to it.

    Exit code 4: nothing was agreed to.
    """
    opened = open_study(name or study)
    opened.study.adopt()
    terms = terms_of(opened.study.history.definition, find_study(name or study))
    if not seen_and_agreed(opened.study.history.definition, terms, code, ask=True):
        raise typer.Exit(ANSWER_OWED)


def terms_of(definition: "Definition", folder: Path) -> "Terms":
    """All that the study may run.

    Raises:
        InputError: nothing.
    """
    from planner.drive import agreement

    terms = agreement.terms_of(definition, folder)
    if not terms.commands:
        raise InputError(
            "study.toml: has no [drive] table and no [workload.launch]: there is nothing to run"
        )
    return terms


def seen_and_agreed(
    definition: "Definition", terms: "Terms", code: str | None = None, ask: bool = False
) -> bool:
    """Whether the person has agreed to these terms, now or before; they are shown if not."""
    from planner.drive import agreement
    from planner.report.text.driving import terms_text

    known = agreement.is_agreed(terms)
    if known and not ask:
        return True
    short = terms.name[: agreement.CODE]
    show = out if ask else talk
    show(terms_text(definition.goal.name, terms.commands, terms.scripts, terms.files, width()))
    if known:
        talk("\nYou have agreed to this.")
        return True
    if code is not None and code != short:
        raise InputError(f"--code {code!r}: these commands have the code {short}: read them first")
    if code is None and not (interactive() and _typed()):
        talk(f"\nNothing is run. If you agree: planner agree --code {short}")
        return False
    agreement.agree(terms)
    talk("\nAgreed. Any other command, script or folder is asked about anew.")
    return True


def _typed() -> bool:
    answer: str = typer.prompt("\nType yes if you agree that all this is run", err=True)
    return answer.strip().casefold() == "yes"
