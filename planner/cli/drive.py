"""`planner drive`."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from planner.cli.arguments import Name, StudyName
from planner.cli.console import (
    ANSWER_OWED,
    HALTED,
    NOTHING_LEFT,
    interactive,
    out,
    talk,
    width,
)
from planner.cli.studies import Opened, find_study, open_for_an_evening

if TYPE_CHECKING:
    from planner.driving.agreement import Agreement


def command(
    name: Name = None,
    study: StudyName = None,
    dry_run: Annotated[
        bool, typer.Option("--dry-run", help="Show every command; run nothing.")
    ] = False,
    agree: Annotated[
        bool, typer.Option("--agree", help="You have read the commands and agree to them.")
    ] = False,
    resume: Annotated[
        bool, typer.Option("--resume", help="Only if a drive was cut off, as by a restart.")
    ] = False,
    runs: Annotated[
        int | None, typer.Option("--runs", metavar="N", min=1, help="Stop after so many runs.")
    ] = None,
) -> None:
    """Run the search by itself, with the commands in [drive] of study.toml.

    Live knobs only, at or under their everyday ceilings. Ctrl-C finishes the run, restores and
    ends; a second one ends the run at once. Exit code 3: nothing is left to propose. 4: the
    commands were not yet agreed to, or a run of yours has no answer. 7: it stopped by itself, and
    wants a person.
    """
    from planner.cli.driven import drive
    from planner.driving.loop import Halt
    from planner.driving.trail import Trail

    folder = find_study(name or study)
    if resume and Trail(folder).read() is None:
        talk("No drive was cut off: there is nothing to go on with.")
        return
    opened = open_for_an_evening(name or study)
    agreed = _shown(opened, folder)
    if dry_run:
        return
    _agree(agreed, agree)
    try:
        over = drive(opened, folder, agreed, runs)
    except Halt as halt:
        talk(f"Stopped: {halt}. See to the machine before you go on.")
        raise typer.Exit(HALTED) from None
    if over:
        _verdict(opened)
        raise typer.Exit(NOTHING_LEFT)


def _shown(opened: Opened, folder: Path) -> "Agreement":
    """Print the cautions and the commands; what is to be agreed to."""
    from planner.driving.agreement import agreement_to
    from planner.driving.fitness import check_programs, drive_of
    from planner.report.text.drive import cautions_text, commands_text

    opened.study.adopt()
    definition = opened.study.history.definition
    agreement = agreement_to(drive_of(definition), folder)
    talk(cautions_text(definition, width()))
    out(commands_text(agreement.commands, str(agreement.folder), agreement.files))
    check_programs(agreement)
    return agreement


def _agree(agreement: "Agreement", said: bool) -> None:
    from planner.driving.agreed import is_kept, keep

    if is_kept(agreement.digest):
        return
    if not said:
        if not interactive():
            talk("Nothing was run: nobody has agreed to these commands yet. Read them, then add")
            talk("--agree.")
            raise typer.Exit(ANSWER_OWED)
        answer = typer.prompt("Run these commands on this machine? Type yes to agree", err=True)
        if answer.strip().lower() != "yes":
            talk("Nothing was run.")
            raise typer.Exit(ANSWER_OWED)
    talk(f"Agreement kept in {keep(agreement.digest)}")


def _verdict(opened: Opened) -> None:
    from planner.report.text.verdict import verdict_text

    best = opened.study.recommendation(everyday_only=True)
    out(verdict_text(opened.study.history, best, None, opened.suffix, width()))
