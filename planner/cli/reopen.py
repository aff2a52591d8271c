"""`planner reopen`."""

from planner.cli.arguments import Name, StudyName
from planner.cli.console import out
from planner.cli.studies import open_study


def command(name: Name = None, study: StudyName = None) -> None:
    """Go on, overruling the advice to stop until study.toml or the machine changes."""
    opened = open_study(name or study)
    opened.study.reopen()
    out(f"Open again: planner next{opened.suffix}")
