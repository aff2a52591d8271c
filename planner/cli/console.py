"""The two streams and what may be seen on them: results to stdout, talk to stderr."""

import os
import shutil
import sys

import typer

from planner.errors import (
    AnswerOwed,
    CommandFailed,
    ForbiddenSetting,
    InputError,
    LedgerBusy,
    LedgerConflict,
    LedgerError,
    PlannerError,
)
from planner.report.text.layout import clean

DONE, DEFECT, MISTAKE, NOTHING_LEFT, ANSWER_OWED, BUSY, DAMAGED, LAUNCH_FAILED = range(8)
"""Exit codes."""
INTERRUPTED = 130
"""Exit code after Ctrl-C, as shells count it."""
_CODES: tuple[tuple[type[PlannerError], int], ...] = (
    (InputError, MISTAKE),
    (AnswerOwed, ANSWER_OWED),
    (CommandFailed, LAUNCH_FAILED),
    (ForbiddenSetting, DEFECT),
    (LedgerBusy, BUSY),
    (LedgerConflict, BUSY),
    (LedgerError, DAMAGED),
)
_NARROWEST = 40


def out(text: str) -> None:
    """Print a result."""
    typer.echo(styled(clean(text)))


def talk(text: str) -> None:
    """Print what is said beside the result."""
    typer.echo(clean(text), err=True)


def out_json(text: str) -> None:
    """Print a result for programs."""
    typer.echo(text, color=False)


def out_exactly(text: str) -> None:
    """Print a result for programs, byte for byte in UTF-8; on a terminal nothing can steer it."""
    if to_terminal():
        typer.echo(clean(text.replace("\r\n", "\n")), nl=False)
    else:
        typer.echo(text.encode(), nl=False)


def refuse(error: PlannerError) -> int:
    """Print an error as one message; the exit code that goes with it."""
    talk(f"Error: {error}")
    if isinstance(error, ForbiddenSetting):
        talk("Nothing was written. This is a defect of the planner, not of what you did.")
    return next((code for kind, code in _CODES if isinstance(error, kind)), DEFECT)


def width() -> int:
    """Columns of the terminal, or 80 where there is none."""
    return max(shutil.get_terminal_size((80, 24)).columns, _NARROWEST)


def interactive() -> bool:
    """Whether a person can be asked."""
    return sys.stdin.isatty() and sys.stderr.isatty()


def to_terminal() -> bool:
    """Whether results go to a screen, not into a file or another program."""
    return sys.stdout.isatty()


def styled(text: str) -> str:
    """First line and warnings in bold; typer takes that out again where it is no terminal."""
    if os.environ.get("NO_COLOR"):
        return text
    lines = text.split("\n")
    return "\n".join(
        typer.style(line, bold=True) if place == 0 or line.startswith("AT YOUR OWN RISK") else line
        for place, line in enumerate(lines)
    )
