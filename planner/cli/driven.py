"""The loop of `planner drive`, with what is seen of it on the screen."""

import sys
import tempfile
from contextlib import closing
from pathlib import Path
from secrets import token_hex
from typing import TYPE_CHECKING

import typer

from planner.bench import same_boot
from planner.cli.console import ANSWER_OWED, interactive, talk, width
from planner.cli.owed import ask_how_it_ended, from_earlier_boot
from planner.cli.studies import Opened
from planner.driving.attempt import Bench
from planner.driving.fitness import drive_of
from planner.driving.loop import Loop
from planner.driving.trail import Trail, UnderWay
from planner.driving.wish import heeding

if TYPE_CHECKING:
    from collections.abc import Callable

    from planner.domain.run import Proposal
    from planner.driving.agreement import Agreement


def drive(opened: Opened, folder: Path, agreed: "Agreement", most: int | None) -> bool:
    """Run the loop; whether nothing is left to propose.

    Raises:
        Halt: something that wants a person.
        LedgerBusy: another planner drives the study.
    """
    from planner.report.text.drive import why_text
    from planner.report.text.recorded import recorded_text

    trail, study = Trail(folder), opened.study
    with trail.held(), tempfile.TemporaryDirectory(prefix="planner-") as scratch:
        left = trail.read()
        _settle(opened, left)
        definition = study.history.definition
        bench = Bench(definition, drive_of(definition), folder, Path(scratch), token_hex(8))
        bench.say = talk
        if sys.stderr.isatty():
            _show_progress(bench)
        check = _checking(opened, folder, agreed, bench)
        loop = Loop(study, bench, trail, check, _announcing(opened), most, left)
        with heeding(bench.wish), closing(loop.runs()) as made:
            for run in made:
                _clear_progress()
                talk(recorded_text(run, study.history.definition, width()))
                if why := why_text(run, width()):
                    talk(why)
        return loop.exhausted


def _settle(opened: Opened, left: UnderWay | None) -> None:
    """What became of a pending run: a drive's own is recorded, of theirs a person is asked."""
    from planner.driving.left_over import end_left_over
    from planner.driving.returning import settle
    from planner.report.text.drive import settled_text
    from planner.report.text.phrases import counted
    from planner.report.text.proposal import answer_owed_text

    study = opened.study
    if left is not None:
        if ended := end_left_over(left.token):
            talk(f"{counted(ended, 'process', 'processes')} of the earlier drive ended.")
        heartbeat = drive_of(study.history.definition).heartbeat
        if (run := settle(study, left, apart=bool(heartbeat))) is not None:
            talk(settled_text(run, opened.suffix, width()))
    pending = study.pending
    if pending is None or not from_earlier_boot(pending):
        return
    if left is not None and same_boot(pending.boot_mark, left.boot_mark):
        return  # drive's own, asked for and not begun
    if interactive():
        ask_how_it_ended(opened, pending)
        return
    talk(answer_owed_text(pending, study.history, opened.suffix, width()))
    raise typer.Exit(ANSWER_OWED)


def _checking(
    opened: Opened, folder: Path, agreed: "Agreement", bench: Bench
) -> "Callable[[], None]":
    """What was agreed to is what will run; an edited study.toml is asked about anew."""
    from planner.driving.agreement import agreement_to

    def check() -> None:
        definition = opened.study.history.definition
        drive = drive_of(definition)
        if agreement_to(drive, folder) != agreed:
            talk("The commands, or files that they name, were edited: start drive anew to read")
            talk("them.")
            raise typer.Exit(ANSWER_OWED)
        bench.take(definition, drive)

    return check


def _announcing(opened: Opened) -> "Callable[[Proposal], None]":
    from planner.report.text.drive import starting_text

    return lambda proposal: talk(starting_text(proposal, opened.study.history.definition, width()))


def _show_progress(bench: Bench) -> None:
    from planner.report.text.drive import progress_line

    def show(left_s: float, readings: dict[str, float]) -> None:
        line = progress_line(left_s, readings, bench.definition, bench.wish.finish, width())
        typer.echo(f"\r{line:<{width() - 1}}\r", nl=False, err=True)

    bench.tell = show


def _clear_progress() -> None:
    if sys.stderr.isatty():
        typer.echo(f"\r{' ' * (width() - 1)}\r", nl=False, err=True)
