"""`planner guide`."""

import gc
import io
import sys
import time
from contextlib import suppress
from typing import TYPE_CHECKING

import typer

from planner.cli.arguments import Name, StudyName
from planner.cli.console import out, width
from planner.cli.studies import Opened, find_study, open_for_an_evening
from planner.report.text.layout import clean

if TYPE_CHECKING:
    from planner.cli.guided.desk import Desk

_INTERRUPTED = 130
"""Exit code after Ctrl-C, as shells count it."""


def command(name: Name = None, study: StudyName = None) -> None:
    """An evening at one prompt: what to run, how it ended, what next, until the study closes.

    Type p for pass, c for crash, ? for all else. Exit code 3: nothing is left to propose.
    """
    from planner.cli.guided.interrupts import interrupts_heard
    from planner.cli.guided.session import Session

    gc.enable()  # it was off for commands that are soon over
    opened = open_for_an_evening(name or study)
    session = Session(opened.study, _desk(opened, name or study))
    try:
        with interrupts_heard():
            code = session.run()
    except KeyboardInterrupt:
        typer.echo(f"\n{clean(session.leaving())}")
        code = _INTERRUPTED
    raise typer.Exit(code)


def _desk(opened: Opened, name: str | None) -> "Desk":
    from planner.cli.guided.desk import Desk
    from planner.driving.trail import Trail

    _prepare_typing()
    return Desk(
        at_work=Trail(find_study(name)).run_at_work,
        say=lambda text: typer.echo(clean(text)),
        show=_shown,
        ask=_asked,
        width=width,
        now=time.monotonic,
        draw=lambda: _drawn(opened, name),
        person=sys.stdin.isatty(),
        suffix=opened.suffix,
    )


def _prepare_typing() -> None:
    """Arrow keys where the system offers them; bytes that are no text become marks of such."""
    if isinstance(sys.stdin, io.TextIOWrapper):
        sys.stdin.reconfigure(errors="replace")
    with suppress(ImportError):
        import readline  # noqa: F401  # input() uses it once it is loaded


def _shown(text: str) -> None:
    typer.echo()
    out(text)


def _asked(prompt: str) -> str:
    """The next line; one that no terminal has shown is shown here, so that the log is whole."""
    try:
        line = input(prompt)
    except EOFError:
        typer.echo()
        raise
    if not sys.stdin.isatty():
        typer.echo(clean(line))
    return line


def _drawn(opened: Opened, name: str | None) -> str:
    from planner.cli.plot import FOLDER, draw
    from planner.report.pictures.table import usual_for

    history = opened.study.history
    picture = usual_for(history.definition.goal.aim)
    file = find_study(name) / FOLDER / f"{picture}.png"
    draw(history, file, picture)
    return str(file)
