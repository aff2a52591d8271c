"""`planner next`."""

from typing import TYPE_CHECKING, Annotated

import typer

from planner.cli.arguments import Json, Name, StudyName
from planner.cli.console import (
    ANSWER_OWED,
    NOTHING_LEFT,
    interactive,
    out,
    out_json,
    talk,
    width,
)
from planner.cli.studies import Opened, open_study

if TYPE_CHECKING:
    from planner.domain.run import Proposal
    from planner.models.findings import Recommendation
    from planner.study import Study

_AGAIN = "again"
_ANSWERS = ("crash", "no-start", "pass", "void", _AGAIN)


def command(
    name: Name = None,
    study: StudyName = None,
    again: Annotated[
        bool, typer.Option("--again", help="Show a proposal from before a restart once more.")
    ] = False,
    json: Json = False,
) -> None:
    """What to run next, and why. Asked twice it gives the same until it is answered.

    Exit code 3: nothing is left to propose. 4: the machine was restarted since the last
    proposal, so tell first how that ended.
    """
    opened = open_study(name or study)
    proposal = _propose(opened.study)
    owed = proposal is not None and not again and _from_earlier_boot(proposal)
    if proposal is not None and owed and not json and interactive():
        proposal = _ask(opened, proposal)
        owed = False
    _print(opened, proposal, owed, json)
    if owed:
        raise typer.Exit(ANSWER_OWED)
    if proposal is None:
        raise typer.Exit(NOTHING_LEFT)


def _propose(study: "Study") -> "Proposal | None":
    """The proposal, with a word on what an edited study.toml did to the one before."""
    if study.adopt():
        talk("study.toml was edited: taken over.")
    before = study.pending
    proposal = study.next()
    gone = before is not None and (proposal is None or proposal.number != before.number)
    if before is not None and gone and before.number not in study.history.by_number:
        talk(f"Run {before.number} is withdrawn: the study forbids it now.")
    return proposal


def _print(opened: Opened, proposal: "Proposal | None", owed: bool, json: bool) -> None:
    from planner.report.text.proposal import answer_owed_text, proposal_text

    history = opened.study.history
    best, everyday = recommendations(opened.study)
    if json:
        from planner.report.text.documents import json_text, next_document

        out_json(json_text(next_document(history, proposal, owed, best, everyday)))
    elif proposal is None:
        from planner.report.text.verdict import verdict_text

        out(verdict_text(history, best, everyday, opened.suffix, width()))
    elif owed:
        talk(answer_owed_text(proposal, history, opened.suffix, width()))
    else:
        out(proposal_text(proposal, history, best, everyday, opened.suffix, width()))
        if not history.evidence:
            talk(
                "\nNo run is on record yet. Show first that stock holds, and record it with"
                f"\nplanner record pass --as-is{opened.suffix}"
            )


def recommendations(study: "Study") -> tuple["Recommendation", "Recommendation | None"]:
    """The best setting, and beside it the best everyday one where a risk was accepted."""
    best = study.recommendation()
    return best, study.recommendation(everyday_only=True) if study.history.accepted else None


def _from_earlier_boot(proposal: "Proposal") -> bool:
    from planner.bench import boot_mark, same_boot

    return not same_boot(proposal.boot_mark, boot_mark())


def _ask(opened: Opened, proposal: "Proposal") -> "Proposal | None":
    """Ask how the pending run ended, record it, and propose the next."""
    from planner.report.text.proposal import answer_owed_text
    from planner.report.text.recorded import recorded_text

    study = opened.study
    talk(answer_owed_text(proposal, study.history, opened.suffix, width()))
    answer = ""
    while answer not in _ANSWERS:
        answer = typer.prompt(f"One of {', '.join(_ANSWERS)}", err=True).strip()
    if answer == _AGAIN:
        return proposal
    run = study.record(answer, number=proposal.number)
    talk(recorded_text(run, study.history.definition, width()) + "\n")
    return study.next()
