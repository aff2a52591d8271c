"""The answer that is owed first: how a run ended that was pending when the machine restarted."""

from typing import TYPE_CHECKING

import typer

from planner.cli.console import talk, width
from planner.cli.studies import Opened

if TYPE_CHECKING:
    from planner.domain.run import Proposal

_AGAIN = "again"
_ANSWERS = ("crash", "no-start", "pass", "void", _AGAIN)


def from_earlier_boot(proposal: "Proposal") -> bool:
    """Whether the machine was restarted since it was handed out."""
    from planner.bench import boot_mark, same_boot

    return not same_boot(proposal.boot_mark, boot_mark())


def ask_how_it_ended(opened: Opened, proposal: "Proposal") -> bool:
    """Ask, and record the answer; False where it is to be run again."""
    from planner.report.text.proposal import answer_owed_text
    from planner.report.text.recorded import recorded_text

    study = opened.study
    talk(answer_owed_text(proposal, study.history, opened.suffix, width()))
    answer = ""
    while answer not in _ANSWERS:
        answer = typer.prompt(f"One of {', '.join(_ANSWERS)}", err=True).strip()
    if answer == _AGAIN:
        return False
    run = study.record(answer, number=proposal.number)
    talk(recorded_text(run, study.history.definition, width()) + "\n")
    return True
