"""Arguments and options that several commands share, and how they become facts of a run."""

from collections.abc import Iterable, Mapping
from typing import Annotated, Any

import typer

from planner.cli.studies import study_names
from planner.domain.outcome import Capped, Outcome
from planner.errors import InputError

Name = Annotated[
    str | None,
    typer.Argument(
        metavar="NAME",
        help="Study: its folder under ./studies, or a path. Needless where there is only one.",
        autocompletion=study_names,
        show_default=False,
    ),
]
StudyName = Annotated[
    str | None,
    typer.Option(
        "--study",
        "-s",
        metavar="NAME",
        help="Study, if not the only one.",
        autocompletion=study_names,
    ),
]
Json = Annotated[bool, typer.Option("--json", help="Print one JSON object.")]


def outcomes(incomplete: str) -> list[str]:
    """The outcomes that begin so, for shells to complete."""
    return [outcome for outcome in Outcome if outcome.startswith(incomplete)]


def typed(flag: str, metavar: str, help: str) -> Any:
    """An option that is given as typed."""
    return typer.Option(flag, metavar=metavar, help=help)


def out_file(help: str) -> Any:
    """The option that names the file to write; `help` says what it is otherwise."""
    return typer.Option("--out", "-o", metavar="FILE", help=help, show_default=False)


Actual = Annotated[
    list[str] | None,
    typed("--actual", "KNOB=VALUE", "What really ran, where it was not as set. Repeatable."),
]
Score = Annotated[str | None, typed("--score", "X", "Its score.")]
Sub = Annotated[list[str] | None, typed("--sub", "NAME=X", "Part of the score. Repeatable.")]
Readings = Annotated[
    list[str] | None, typed("--reading", "NAME=X", "A measurement, as hotspot=91C. Repeatable.")
]
FailedAfter = Annotated[
    str | None, typed("--failed-after", "TIME", "Time from its start to the failure, as 85s.")
]
Minutes = Annotated[
    str | None, typed("--minutes", "M", "Minutes of it all, dialling in and recovery included.")
]
RunMinutes = Annotated[str | None, typed("--run-minutes", "M", "Minutes that the workload ran.")]
Errors = Annotated[str | None, typed("--errors", "N", "Errors that were counted.")]
CappedBy = Annotated[
    str | None,
    typed("--capped", "|".join(Capped), "It passed, but limited; or its score counts for nothing."),
]
Symptom = Annotated[str | None, typed("--symptom", "TEXT", "What was seen, as 'blank screen'.")]
Suspect = Annotated[str | None, typed("--suspect", "KNOB", "Knob or group that you suspect.")]
Note = Annotated[str | None, typed("--note", "TEXT", "Anything else.")]
Boot = Annotated[str | None, typed("--boot", "cold|warm", "The machine was started for this run.")]
WorkloadName = Annotated[str | None, typed("--workload", "NAME", "What was run.")]

_FACTS = {
    "score": "score",
    "failed_after": "failed_after_s",
    "minutes": "minutes",
    "run_minutes": "run_minutes",
    "errors": "errors",
    "capped": "capped",
    "symptom": "symptom",
    "suspect": "suspect",
    "note": "note",
    "boot": "boot",
    "workload": "workload",
}
_TABLES = {"setting": "settings", "actual": "actual", "sub": "subscores", "reading": "readings"}
"""Parameter of a command: the fact that the study calls it."""


def facts_of(params: Mapping[str, Any]) -> dict[str, Any]:
    """The facts among a command's parameters, those that were given.

    Raises:
        InputError: not NAME=VALUE where that is expected, or a name given twice.
    """
    facts = {fact: params[name] for name, fact in _FACTS.items() if params[name] is not None}
    for name, fact in _TABLES.items():
        if params[name]:
            facts[fact] = _pairs(_flag(name), params[name])
    return facts


def clearable() -> Mapping[str, str]:
    """Options whose fact an amendment may take back, without their dashes, and the facts."""
    return {_flag(name)[2:]: fact for name, fact in (_FACTS | _TABLES).items()}


def _flag(name: str) -> str:
    return "--set" if name == "setting" else f"--{name.replace('_', '-')}"


def _pairs(flag: str, given: Iterable[str]) -> dict[str, str]:
    """`NAME=VALUE` texts as a table."""
    table: dict[str, str] = {}
    for text in given:
        name, sign, value = text.partition("=")
        if not sign:
            raise InputError(f"{flag} {text!r}: expected NAME=VALUE")
        if name.strip() in table:
            raise InputError(f"{flag} {text!r}: {name.strip()} is given twice, expected once")
        table[name.strip()] = value.strip()
    return table
