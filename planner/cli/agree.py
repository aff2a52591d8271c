"""`planner agree`."""

from typing import TYPE_CHECKING, Annotated

import typer

from planner.cli.arguments import Name, StudyName
from planner.cli.console import ANSWER_OWED, interactive, out, talk, width
from planner.cli.studies import find_study, open_study, places_of
from planner.errors import InputError

if TYPE_CHECKING:
    from planner.domain.definition import Definition
    from planner.drive.agreement import RunTerms, Terms


def command(
    name: Name = None,
    study: StudyName = None,
    code: Annotated[
        str | None,
        typer.Option("--code", metavar="CODE", help="Agree to all that has this code."),
    ] = None,
) -> None:
    """See what a study may run and where else it may write, and agree to it.

    Exit code 4: nothing was agreed to.
    """
    from planner.drive.agreement import run_terms
    from planner.report.text.driving import places_text

    folder = find_study(name or study)
    places = places_of(folder)
    if places.places:
        out(places_text(folder.resolve().name, places.places, width()))
        if not _agreed(places, code):
            raise typer.Exit(ANSWER_OWED)
    opened = open_study(name or study)
    opened.study.adopt()
    definition = opened.study.history.definition
    terms = run_terms(definition, folder)
    if terms.commands:
        out(_shown(definition, terms))
        if not _agreed(terms, code):
            raise typer.Exit(ANSWER_OWED)
    elif not places.places:
        raise InputError(
            "study.toml: has no [drive] table and no [workload.launch]: there is nothing to run"
        )


def seen_and_agreed(definition: "Definition", terms: "RunTerms") -> bool:
    """Whether the person has agreed to what may be run, now or before; it is shown if not."""
    from planner.drive.agreement import is_agreed

    if is_agreed(terms):
        return True
    talk(_shown(definition, terms))
    return _agreed(terms, None)


def _agreed(terms: "Terms", code: str | None) -> bool:
    """Ask, unless it is known or the code is the right one."""
    from planner.drive import agreement

    if agreement.is_agreed(terms):
        talk("\nYou have agreed to this.")
        return True
    short = agreement.name_of(terms)[: agreement.CODE]
    if code != short and not (code is None and interactive() and _typed()):
        wrong = f"--code {code} is of something else. " if code is not None else ""
        talk(f"\n{wrong}Nothing is run or written. If you agree: planner agree --code {short}")
        return False
    agreement.agree(terms)
    talk("\nAgreed. Any other command, script, place or folder is asked about anew.")
    return True


def _shown(definition: "Definition", terms: "RunTerms") -> str:
    from planner.report.text.driving import terms_text

    return terms_text(definition.goal.name, terms.commands, terms.scripts, terms.files, width())


def _typed() -> bool:
    answer: str = typer.prompt("\nType yes if you agree to all of it", err=True)
    return answer.strip().casefold() == "yes"
