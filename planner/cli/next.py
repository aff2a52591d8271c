"""`planner next`."""

from collections.abc import Sequence
from pathlib import Path
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
from planner.cli.owed import ask_how_it_ended, from_earlier_boot
from planner.cli.studies import Opened, find_study, open_study, take_over
from planner.domain.terms import Terms

if TYPE_CHECKING:
    from planner.domain.run import Proposal
    from planner.models.findings import Recommendation
    from planner.peak.alternatives import Alternative
    from planner.study import Study


def command(
    name: Name = None,
    study: StudyName = None,
    again: Annotated[
        bool, typer.Option("--again", help="Show a proposal from before a restart once more.")
    ] = False,
    only: Annotated[
        list[str] | None,
        typer.Option("--only", metavar="GROUP", help="Turn this group or knob only; repeatable."),
    ] = None,
    start: Annotated[
        int | None, typer.Option("--from", metavar="RUN", help="Look beside this run's setting.")
    ] = None,
    max_changes: Annotated[
        int | None, typer.Option("--max-changes", help="Dial in so many values at most.")
    ] = None,
    show: Annotated[
        int | None, typer.Option("--show", min=1, max=9, help="So many settings to choose from.")
    ] = None,  # None for one: what is typed costs the loading of typer's converter
    json: Json = False,
) -> None:
    """What to run next, and why. Asked twice it gives the same until it is answered.

    --only, --from, --max-changes and --show are for aims that turn many knobs; a pending
    proposal asked on other terms is withdrawn.

    Exit code 3: nothing is left to propose. 4: the machine was restarted since the last
    proposal, so tell first how that ended.
    """
    opened = open_study(name or study)
    terms = Terms(only=frozenset(only or ()), start=start, max_changes=max_changes)
    proposal = _propose(opened.study, terms)
    owed = proposal is not None and not again and from_earlier_boot(proposal)
    if proposal is not None and owed and not json and interactive():
        if ask_how_it_ended(opened, proposal):
            proposal = _asked(opened.study, terms)
        owed = False
    others = opened.study.alternatives(show - 1, terms) if show and show > 1 and proposal else None
    _print(opened, proposal, owed, json, others)
    if proposal is not None:
        _warn_of_drive(find_study(name or study), proposal.number)
    if owed:
        raise typer.Exit(ANSWER_OWED)
    if proposal is None:
        raise typer.Exit(NOTHING_LEFT)


def _propose(study: "Study", terms: Terms) -> "Proposal | None":
    """The proposal, with a word on what an edited study.toml did to the one before."""
    take_over(study)
    before = study.pending
    proposal = _asked(study, terms)
    gone = before is not None and (proposal is None or proposal.number != before.number)
    if before is not None and gone and before.number not in study.history.by_number:
        why = "it was asked on other terms" if terms.of_the_search else "the study forbids it now"
        talk(f"Run {before.number} is withdrawn: {why}.")
    return proposal


def _asked(study: "Study", terms: Terms) -> "Proposal | None":
    return study.next(only=terms.only, start=terms.start, max_changes=terms.max_changes)


def _print(
    opened: Opened,
    proposal: "Proposal | None",
    owed: bool,
    json: bool,
    others: "Sequence[Alternative] | None",
) -> None:
    from planner.report.text.proposal import answer_owed_text, proposal_text

    history = opened.study.history
    best, everyday = recommendations(opened.study)
    if json:
        from planner.report.text.documents import next_document
        from planner.report.text.json_form import json_text

        out_json(json_text(next_document(history, proposal, owed, best, everyday, others or ())))
    elif proposal is None:
        from planner.report.text.verdict import verdict_text

        out(verdict_text(history, best, everyday, opened.suffix, width()))
    elif owed:
        talk(answer_owed_text(proposal, history, opened.suffix, width()))
    else:
        out(proposal_text(proposal, history, best, everyday, opened.suffix, width()))
        if others is not None:
            from planner.report.text.alternatives import alternatives_text

            out("\n" + alternatives_text(others, history, width()))
        if not history.evidence:
            talk(
                "\nNo run is on record yet. Show first that stock holds, and record it with"
                f"\nplanner record pass --as-is{opened.suffix}"
            )


def _warn_of_drive(folder: Path, number: int) -> None:
    """A run that planner drive has under way is not the person's to run."""
    from planner.driving.trail import Trail

    if Trail(folder).run_at_work() == number:
        from planner.report.text.proposal import at_work_text

        talk(f"\nNote: {at_work_text(number)}")


def recommendations(study: "Study") -> tuple["Recommendation", "Recommendation | None"]:
    """The best setting, and beside it the best everyday one where a risk was accepted."""
    best = study.recommendation()
    return best, study.recommendation(everyday_only=True) if study.history.accepted else None
