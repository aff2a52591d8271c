"""`planner record`."""

from typing import Annotated

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
    facts_of,
    outcomes,
)
from planner.cli.console import interactive, out, width
from planner.cli.reading_back import read_back
from planner.cli.studies import open_study
from planner.domain.outcome import Outcome


def command(
    ctx: typer.Context,
    outcome: Annotated[
        str,
        typer.Argument(
            metavar="OUTCOME",
            help=f"How it ended: {', '.join(Outcome)}.",
            autocompletion=outcomes,
        ),
    ],
    study: StudyName = None,
    number: Annotated[
        int | None, typer.Option("--number", metavar="N", help="Which pending run it answers.")
    ] = None,
    setting: Annotated[
        list[str] | None,
        typer.Option(
            "--set", metavar="KNOB=VALUE", help="A run of your own, at this value. Repeatable."
        ),
    ] = None,
    as_is: Annotated[
        bool, typer.Option("--as-is", help="A run of your own, of what the machine holds.")
    ] = False,
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
    """Tell how a run ended: the pending one, or with --set or --as-is one of your own.

    Numbers take units: 1350mV, 5.1GHz, 85s. Late in an evening a terminal asks for each voltage
    that the run raised, as the machine reads it.
    """
    facts = facts_of(ctx.params)
    if as_is:
        facts.setdefault("settings", {})
    opened = open_study(study)
    if outcome == Outcome.PASS and not as_is and not setting and interactive():
        facts["actual"] = read_back(opened.study, number, facts.get("actual", {})) or None
    run = opened.study.record(outcome, number=number, **facts)
    from planner.report.text.recorded import news_of_best, recorded_text

    history = opened.study.history
    out(recorded_text(run, history.definition, width()))
    for line in news_of_best(history, run, width()):
        out(line)
