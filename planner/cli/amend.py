"""`planner amend`."""

from typing import Annotated, Any

import typer

from planner.cli.arguments import (
    Actual,
    Boot,
    CappedBy,
    Errors,
    FailedAfter,
    Minutes,
    Note,
    Readings,
    RunMinutes,
    Score,
    StudyName,
    Sub,
    Suspect,
    Symptom,
    WorkloadName,
    clearable,
    facts_of,
    outcomes,
)
from planner.cli.console import out, width
from planner.cli.studies import open_study
from planner.domain.outcome import Outcome
from planner.errors import InputError


def command(
    ctx: typer.Context,
    run: Annotated[int, typer.Argument(metavar="RUN", help="Number of the run.")],
    outcome: Annotated[
        str | None,
        typer.Argument(
            metavar="OUTCOME",
            help=f"How it really ended: {', '.join(Outcome)}; the last strikes it.",
            autocompletion=outcomes,
            show_default=False,
        ),
    ] = None,
    study: StudyName = None,
    outcome_option: Annotated[
        str | None, typer.Option("--outcome", metavar="OUTCOME", help="The same, as an option.")
    ] = None,
    clear: Annotated[
        list[str] | None,
        typer.Option("--clear", metavar="FACT", help="Take a fact back, as score. Repeatable."),
    ] = None,
    setting: Annotated[
        list[str] | None,
        typer.Option("--set", metavar="KNOB=VALUE", help="What was set. Repeatable."),
    ] = None,
    failed_after: FailedAfter = None,
    errors: Errors = None,
    score: Score = None,
    sub: Sub = None,
    reading: Readings = None,
    capped: CappedBy = None,
    actual: Actual = None,
    run_minutes: RunMinutes = None,
    minutes: Minutes = None,
    symptom: Symptom = None,
    suspect: Suspect = None,
    note: Note = None,
    boot: Boot = None,
    workload: WorkloadName = None,
) -> None:
    """Mend what was recorded of a run, or strike it with void. The first entry stays on file."""
    facts = _taken_back(clear or []) | facts_of(ctx.params)
    if outcome is not None and outcome_option not in (None, outcome):
        raise InputError(f"amend {run}: outcome {outcome} and --outcome {outcome_option}: which?")
    if new := outcome or outcome_option:
        facts["outcome"] = new
    opened = open_study(study)
    amended = opened.study.amend(run, **facts)
    from planner.report.text.recorded import recorded_text

    out(recorded_text(amended, opened.study.history.definition, width()))
    opened.warn()


def _taken_back(names: list[str]) -> dict[str, Any]:
    known = clearable()
    for name in names:
        if name not in known:
            raise InputError(f"--clear {name!r}: expected one of {', '.join(known)}")
    return {known[name]: None for name in names}
