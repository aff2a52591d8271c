"""`planner report`."""

from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from planner.cli.arguments import Name, StudyName, out_file
from planner.cli.console import out
from planner.cli.sheet import Attach, sheet_of_study, spare, write
from planner.cli.studies import find_study, open_study
from planner.errors import InputError

if TYPE_CHECKING:
    from planner.report.account.nouns import Account
    from planner.study import Study

FILE = "report.html"
"""What is written into the study's folder."""


def command(
    name: Name = None,
    study: StudyName = None,
    file: Annotated[
        Path | None,
        out_file(f"An .html file.  [default: {FILE} in the study's folder]"),
    ] = None,
    attach: Attach = None,
) -> None:
    """Write down all that was asked, done and learnt, on one page that a stranger can follow."""
    if file is not None and file.suffix.lower() != ".html":
        raise InputError(f"--out {file}: expected a file ending in .html")
    opened, folder = open_study(name or study), find_study(name or study)
    from planner.report.account.words import TITLE, report_text

    target = file or folder / FILE
    spare(target, TITLE, "a report")
    write(report_text(_account(opened.study, folder, attach or [])), target)
    out(str(target))


def _account(study: "Study", folder: Path, attach: list[str]) -> "Account":
    from planner.report.account.gather import account_of

    history = study.history
    one = history.definition.goal.aim.one_knob
    failed = [] if one else [run.number for run in history.evidence if run.outcome.failed]
    return account_of(
        history,
        sheet_of_study(study, folder, attach),
        study.recommendation(),
        study.edges(),
        {number: study.blame(number).shares for number in failed},
        study.gap(),
        import_module("planner").__version__,
    )
