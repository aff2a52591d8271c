"""`planner gap`."""

from typing import TYPE_CHECKING, Annotated

import typer

from planner.cli.arguments import Name, StudyName, WorkloadName
from planner.cli.console import out, width
from planner.cli.studies import open_study
from planner.domain.quantity import parse_number
from planner.errors import InputError

if TYPE_CHECKING:
    from planner.domain.tables import Workload
    from planner.study import Study


def command(
    name: Name = None,
    study: StudyName = None,
    beat: Annotated[
        list[str] | None,
        typer.Option(
            "--beat",
            metavar="X",
            help="A score to beat, beside those in study.toml; as 2400 or theirs=2400. Repeatable.",
        ),
    ] = None,
    workload: WorkloadName = None,
) -> None:
    """How far it is to the scores to beat, whether that is noise, and what would close the gap."""
    from planner.report.text.gap import gap_text

    opened = open_study(name or study)
    history = opened.study.history
    meant = _workload(opened.study, workload)
    table = opened.study.gap(meant.name, [*meant.beat, *map(_target, beat or [])])
    if table is None:
        raise InputError(
            f"{meant.name}: no claimable score is on record, expected one: planner record pass"
            f" --score X{opened.suffix}"
        )
    out(gap_text(history.definition, table, width()))


def _workload(study: "Study", given: str | None) -> "Workload":
    definition = study.history.definition
    if given is None:
        return definition.workload
    if given not in definition.workloads:
        known = ", ".join(definition.workloads)
        raise InputError(f"--workload {given!r}: expected one of {known}")
    return definition.workloads[given]


def _target(given: str) -> tuple[str, float]:
    name, sign, value = given.rpartition("=")
    score = parse_number(value, "", f"--beat {name}" if sign else "--beat")
    if score <= 0:
        raise InputError(f"--beat {given}: expected a score above 0")
    return name.strip() if sign else value.strip(), score
