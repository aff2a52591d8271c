"""`planner close`."""

from typing import Annotated

import typer

from planner.cli.arguments import Name, StudyName
from planner.cli.console import out, width
from planner.cli.next import recommendations
from planner.cli.studies import open_study
from planner.entries.few_words import MOST, is_few_words
from planner.errors import InputError


def command(
    name: Name = None,
    study: StudyName = None,
    reason: Annotated[
        str, typer.Option("--reason", metavar="TEXT", help="Why it ends.")
    ] = "closed by hand",
) -> None:
    """End the search and say what to keep. Runs can still be recorded."""
    from planner.report.text.verdict import verdict_text

    if not is_few_words(reason):
        raise InputError(f"--reason {reason!r}: expected at most {MOST} printable characters")
    opened = open_study(name or study)
    opened.study.close(reason)
    best, everyday = recommendations(opened.study)
    out(verdict_text(opened.study.history, best, everyday, opened.suffix, width()))
