"""The two streams and what may be seen on them: results to stdout, talk to stderr."""

import os
import shutil
import sys

import typer

from planner.errors import (
    ForbiddenSetting,
    InputError,
    LedgerBusy,
    LedgerConflict,
    LedgerError,
    PlannerError,
)
from planner.report.text.layout import clean, prose

DONE, DEFECT, MISTAKE, NOTHING_LEFT, ANSWER_OWED, BUSY, DAMAGED, HALTED = range(8)
"""Exit codes."""
_CODES: tuple[tuple[type[PlannerError], int], ...] = (
    (InputError, MISTAKE),
    (ForbiddenSetting, DEFECT),
    (LedgerBusy, BUSY),
    (LedgerConflict, BUSY),
    (LedgerError, DAMAGED),
)
_NARROWEST = 40
_WARNING = "AT YOUR OWN RISK"


def out(text: str) -> None:
    """Print a result."""
    typer.echo(styled(clean(text)))


def talk(text: str) -> None:
    """Print what is said beside the result; on a terminal no word is cut at its border."""
    lines = clean(text).split("\n")
    if sys.stderr.isatty():
        lines = [part for line in lines for part in _fitted(line)]
    typer.echo("\n".join(lines), err=True)


def _fitted(line: str) -> list[str]:
    return [line] if len(line) <= width() else prose(line, width())


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
    """What it is about and warnings in bold; typer takes that out where it is no terminal."""
    if os.environ.get("NO_COLOR"):
        return text
    blank = text[: len(text) - len(text.lstrip("\n"))]
    first, *rest = text[len(blank) :].split("\n")
    subject, colon, more = first.partition(": ")
    lines = [typer.style(subject + colon.rstrip(), bold=True) + colon[1:] + _warned(more)]
    return blank + "\n".join(lines + [_warned(line) for line in rest])


def _warned(line: str) -> str:
    return line.replace(_WARNING, typer.style(_WARNING, bold=True))
