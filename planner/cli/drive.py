"""`planner drive`."""

import gc
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from planner.cli.agree import seen_and_agreed
from planner.cli.arguments import Name, StudyName
from planner.cli.console import ANSWER_OWED, interactive, out, talk, width
from planner.cli.studies import Opened, find_study, open_study
from planner.errors import AnswerOwed, InputError, LedgerBusy

if TYPE_CHECKING:
    from planner.domain.definition import Definition
    from planner.domain.launch import Drive
    from planner.drive.loop import Wanted


def command(
    name: Name = None,
    study: StudyName = None,
    attended: Annotated[
        bool,
        typer.Option(
            "--attended", help="You stay there: firmware knobs and accepted risks are allowed."
        ),
    ] = False,
    dry_run: Annotated[
        bool, typer.Option("--dry-run", help="Show every command; run and write nothing.")
    ] = False,
    runs: Annotated[
        str | None, typer.Option("--runs", metavar="N", help="End after so many runs.")
    ] = None,
    resume: Annotated[
        bool,
        typer.Option(
            "--resume", help="For a script at boot: go on with a drive that a reset cut off."
        ),
    ] = False,
) -> None:
    """Run the loop by itself: set, run, judge, record, and again.

    Ctrl-C once ends after the run, twice at once. Exit code 3: nothing is left. 4: a person is
    needed. 7: a command failed, the machine is gone, or too much failed in a row.
    """
    from planner.drive.agreement import run_terms
    from planner.drive.loop import Wanted

    gc.enable()  # it was off for commands that are soon over
    opened = open_study(name or study)
    opened.study.adopt()
    definition, folder = opened.study.history.definition, find_study(name or study)
    wanted = Wanted(not attended, _count(runs), by_hand=not resume)
    drive = _drive_of(definition, wanted)
    if dry_run:
        _show_steps(opened, drive, folder, wanted.unattended)
        return
    if attended and not interactive():
        raise AnswerOwed("--attended: needs a terminal, and you at it")
    if resume and not _cut_off(folder):
        talk("No drive was cut off: nothing to resume.")
        return
    if not seen_and_agreed(definition, run_terms(definition, folder)):
        raise typer.Exit(ANSWER_OWED)
    raise typer.Exit(_driven(opened, drive, folder, wanted))


def _count(given: str | None) -> int | None:
    if given is None:
        return None
    if not given.isdecimal() or not 0 < int(given) <= 1_000_000:
        raise InputError(f"--runs {given!r}: expected a whole number from 1")
    return int(given)


def _drive_of(definition: "Definition", wanted: "Wanted") -> "Drive":
    """The study's [drive] table.

    Raises:
        InputError: it has none, or what it searches cannot be turned unattended.
    """
    from planner.drive.limits import unturnable

    if definition.drive is None:
        raise InputError("study.toml: has no [drive] table, expected one with apply = [...]")
    if definition.workload.launch is None:
        raise InputError(
            f"study.toml: [[workload]] {definition.workload.name}: has no [workload.launch] table,"
            " expected one with command = [...]"
        )
    if wanted.unattended and (name := unturnable(definition)):
        raise InputError(
            f'study.toml: [[knob]] {name}: where = "firmware", and unattended only knobs marked'
            ' where = "live" are turned: mark it so if your apply command changes it while the'
            " machine runs, or stay there with --attended"
        )
    return definition.drive


def _cut_off(folder: Path) -> bool:
    from planner.drive.room import Room

    return Room.of(folder).under_way.exists()


def _show_steps(opened: Opened, drive: "Drive", folder: Path, unattended: bool) -> None:
    from planner.drive.steps import steps_of
    from planner.report.text.driving import dry_run_text

    history = opened.study.history
    pending = opened.study.pending
    settings = pending.settings if pending else history.definition.stock
    steps = steps_of(history.definition, drive, folder, settings)
    out(dry_run_text(history.definition, settings, steps, unattended, width()))


def _driven(opened: Opened, drive: "Drive", folder: Path, wanted: "Wanted") -> int:
    from filelock import FileLock, Timeout

    from planner.cli.driven import Watching
    from planner.drive.agreement import is_agreed, run_terms
    from planner.drive.halt import Halt
    from planner.drive.loop import Loop
    from planner.drive.room import Room

    room, halt = Room.of(folder), Halt()
    watching = Watching(opened.study, halt)
    try:
        with FileLock(room.lock, timeout=0), halt.on_signals():
            loop = Loop(
                opened.study,
                drive,
                room,
                watching,
                halt,
                wanted,
                agreed=lambda definition: is_agreed(run_terms(definition, folder)),
            )
            how, why = loop.run()
    except Timeout:
        raise LedgerBusy(f"{folder}: another drive of this study goes on") from None
    return watching.ended(how, why, opened.suffix)
