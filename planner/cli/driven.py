"""A drive as it is seen on a terminal, or in a log where there is none."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

import typer

from planner.cli.console import (
    ANSWER_OWED,
    DONE,
    INTERRUPTED,
    LAUNCH_FAILED,
    NOTHING_LEFT,
    out,
    talk,
    to_terminal,
    width,
)
from planner.drive.halt import Halt
from planner.drive.screen import End
from planner.report.text import driving
from planner.report.text.layout import clean

if TYPE_CHECKING:
    from planner.domain.run import Proposal, Run
    from planner.study import Study

_CODES = {
    End.CLOSED: NOTHING_LEFT,
    End.ASKED: DONE,
    End.AT_ONCE: INTERRUPTED,
    End.PERSON: ANSWER_OWED,
    End.FAILED: LAUNCH_FAILED,
}


class Watching:
    """The screen of a drive: a line for each run, and one that moves while it goes on."""

    def __init__(self, study: "Study", halt: Halt) -> None:
        """Nothing is shown yet."""
        self._study = study
        self._halt = halt
        self._moving = 0
        self._runs = 0
        self._warned = False

    def asked(self, proposal: "Proposal") -> None:
        """A run begins."""
        self._line(driving.begun_text(proposal, self._study.history.definition, width()))

    def ticked(self, seconds: float, length_s: float, readings: Mapping[str, float]) -> None:
        """Renew the moving line, on a terminal."""
        if self._halt.asked and not self._warned:
            self._warned = True
            self.said("It ends after this run. Ctrl-C again ends the run too.")
        if not to_terminal():
            return
        history = self._study.history
        minutes = history.definition.goal.minutes
        left = None if minutes is None else minutes - history.minutes_spent
        text = driving.progress_text(seconds, length_s, readings, history.definition, left, width())
        shown = clean(text)
        typer.echo("\r" + shown.ljust(self._moving), nl=False)
        self._moving = len(shown)

    def recorded(self, run: "Run", why: str) -> None:
        """It is on disk."""
        self._runs += 1
        self._line(driving.driven_text(run, why, self._study.history.definition, width()))

    def said(self, text: str) -> None:
        """Something else worth a line."""
        self._clear()
        talk(text)

    def ended(self, how: End, why: str, suffix: str) -> int:
        """Say how the drive ended; the exit code."""
        more = [("Look", f"planner show{suffix}")]
        if how in (End.ASKED, End.AT_ONCE):
            more.append(("Go on", f"planner drive{suffix}"))
        self._clear()
        out("\n" + driving.ended_text(how, why, self._runs, more, width()))
        return _CODES[how]

    def _line(self, text: str) -> None:
        self._clear()
        typer.echo(clean(text))

    def _clear(self) -> None:
        if self._moving:
            typer.echo("\r" + " " * self._moving + "\r", nl=False)
            self._moving = 0
