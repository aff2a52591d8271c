"""`planner drive`."""

import sys
import tempfile
from contextlib import closing
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
from planner.cli.studies import Opened, find_study, open_study

if TYPE_CHECKING:
    from planner.driving.agreement import Agreement
    from planner.driving.attempt import Bench
    from planner.driving.loop import Loop


def command(
    name: Name = None,
    study: StudyName = None,
    dry_run: Annotated[
        bool, typer.Option("--dry-run", help="Show every command; run nothing.")
    ] = False,
    agree: Annotated[
        bool, typer.Option("--agree", help="You have read the commands and agree to them.")
    ] = False,
    runs: Annotated[
        int | None, typer.Option("--runs", metavar="N", min=1, help="Stop after so many runs.")
    ] = None,
) -> None:
    """Run the search by itself, with the commands in [drive] of study.toml.

    Live knobs only, at or under their everyday ceilings. Ctrl-C finishes the run, restores and
    ends; a second one ends the run at once. Exit code 3: nothing is left to propose. 4: the
    commands were not yet agreed to. 7: it stopped by itself, and wants a person.
    """
    from planner.driving.loop import Halt

    opened = open_study(name or study)
    folder = find_study(name or study)
    agreed = _shown(opened, folder)
    if dry_run:
        return
    _agree(agreed, agree)
    try:
        over = _drive(opened, folder, agreed, runs)
    except Halt as halt:
        talk(f"Stopped: {halt}. See to the machine before you go on.")
        raise typer.Exit(HALTED) from None
    if over:
        _verdict(opened)
        raise typer.Exit(NOTHING_LEFT)


def _shown(opened: Opened, folder: Path) -> "Agreement":
    """Print the cautions and the commands; what is to be agreed to."""
    from planner.driving.agreement import agreement_to
    from planner.driving.fitness import drive_of
    from planner.report.text.drive import cautions_text, commands_text

    opened.study.adopt()
    definition = opened.study.history.definition
    agreement = agreement_to(drive_of(definition), folder)
    talk(cautions_text(definition, width()))
    out(commands_text(agreement.commands, str(agreement.folder), agreement.files))
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


def _drive(opened: Opened, folder: Path, agreed: "Agreement", most: int | None) -> bool:
    """Run the loop; whether nothing is left to propose."""
    from planner.driving.attempt import Bench
    from planner.driving.fitness import drive_of
    from planner.driving.loop import Loop, check_resets, settle_restart
    from planner.driving.wish import heeding
    from planner.report.text.drive import restarted_text
    from planner.report.text.recorded import recorded_text

    study = opened.study
    if (crashed := settle_restart(study)) is not None:
        talk(restarted_text(crashed.number, opened.suffix, width()))
        check_resets(study, crashed)
    definition = study.history.definition
    with tempfile.TemporaryDirectory(prefix="planner-") as scratch:
        bench = Bench(definition, drive_of(definition), folder, Path(scratch))
        if sys.stderr.isatty():
            _show_progress(bench)
        loop = Loop(study, bench, lambda: _check(opened, folder, agreed, bench), most=most)
        _announce(loop)
        with heeding(bench.wish), closing(loop.runs()) as made:
            for run in made:
                _clear_progress()
                talk(recorded_text(run, study.history.definition, width()))
        return loop.exhausted


def _check(opened: Opened, folder: Path, agreed: "Agreement", bench: "Bench") -> None:
    """What was agreed to is what will run; an edited study.toml is asked about anew."""
    from planner.driving.agreement import agreement_to
    from planner.driving.fitness import drive_of

    definition = opened.study.history.definition
    drive = drive_of(definition)
    if agreement_to(drive, folder) != agreed:
        talk("The commands, or files that they name, were edited: start drive anew to read them.")
        raise typer.Exit(ANSWER_OWED)
    bench.definition, bench.drive = definition, drive


def _announce(loop: "Loop") -> None:
    from planner.report.text.drive import starting_text

    loop.before = lambda proposal: talk(
        starting_text(proposal, loop.study.history.definition, width())
    )


def _show_progress(bench: "Bench") -> None:
    from planner.report.text.drive import progress_line

    def show(left_s: float, readings: dict[str, float]) -> None:
        line = progress_line(left_s, readings, bench.definition, width())
        typer.echo(f"\r{line:<{width() - 1}}\r", nl=False, err=True)

    bench.tell = show


def _clear_progress() -> None:
    if sys.stderr.isatty():
        typer.echo(f"\r{' ' * (width() - 1)}\r", nl=False, err=True)


def _verdict(opened: Opened) -> None:
    from planner.report.text.verdict import verdict_text

    best = opened.study.recommendation(everyday_only=True)
    out(verdict_text(opened.study.history, best, None, opened.suffix, width()))
