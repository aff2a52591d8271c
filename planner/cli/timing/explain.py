"""`planner timing explain`."""

import re
from typing import TYPE_CHECKING, Annotated

import typer

from planner.cli.arguments import Json, StudyName
from planner.cli.console import out, out_json, width
from planner.cli.studies import open_as_edited
from planner.errors import InputError, StudyMissing

if TYPE_CHECKING:
    from planner.domain.knob import Setting
    from planner.history import History
    from planner.trade.timing.timings import Timings
    from planner.trade.timing.typed import Typed

_STOCK, _PENDING = "stock", "pending"


def command(
    words: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="[WORDS]...",
            help="DDR5-6000 tCL=30 tRCD=38 tRFC=295ns: clocks, or a time. Without a data rate, the"
            " study's; what is typed replaces what the study sets.",
            show_default=False,
        ),
    ] = None,
    study: StudyName = None,
    of: Annotated[
        str | None,
        typer.Option(
            "--of",
            metavar="stock|pending|RUN",
            help="Which setting of the study.  [default: pending, or stock where nothing is]",
            show_default=False,
        ),
    ] = None,
    at: Annotated[
        str | None,
        typer.Option("--at", metavar="RATE", help="The same nanoseconds at another data rate."),
    ] = None,
    density: Annotated[
        str | None, typer.Option("--density", metavar="GBIT", help="Gigabits of one chip, as 16.")
    ] = None,
    json: Json = False,
) -> None:
    """What timings mean in nanoseconds, which of them binds, what refresh costs.

    Notes beside the standard are no verdict: tuned sets are outside it, and runs tell what holds.
    """
    from planner.report.text.timing.explained import Explained, explained_text
    from planner.trade.timing.typed import parse_rate, parse_words

    typed = parse_words(words or ())
    if typed.rate is None or study is not None or of is not None:
        timings, title = _of_study(typed, study, of)
    else:
        assert typed.standard is not None  # a rate is typed with it
        timings, title = typed.timings(typed.standard, typed.rate, {}), "As typed"
    moved = None if at is None else timings.at(parse_rate(at, "--at"))
    explained = Explained(timings, title, moved, _gigabits(density, timings))
    if json:
        from planner.report.text.json_form import json_text
        from planner.report.text.timing.document import explained_document

        out_json(json_text(explained_document(explained)))
    else:
        out(explained_text(explained, width()))


def _of_study(typed: "Typed", name: str | None, of: str | None) -> tuple["Timings", str]:
    """The timings of a study's setting, with what was typed in their place."""
    from planner.trade.timing.of_setting import clocks_of, rate_of

    history = _history(name)
    definition = history.definition
    setting, what = _setting(history, of)
    standard = typed.standard or definition.rig.memory
    if standard is None:
        raise InputError(
            f'{definition.goal.name}: which standard? Expected memory = "DDR5" (or DDR4) under'
            " [rig] in study.toml, or the word DDR5 here"
        )
    rate = typed.rate or rate_of(definition, setting)
    clocks = clocks_of(definition, setting, standard, rate)
    changed = ", with what was typed" if typed.values or typed.rate else ""
    return typed.timings(standard, rate, clocks), f"{definition.goal.name}, {what}{changed}"


def _history(name: str | None) -> "History":
    try:
        return open_as_edited(name).study.history
    except StudyMissing as error:
        if name is not None:
            raise
        raise StudyMissing(f"{error}, or type the data rate too, as DDR5-6000 tCL=30") from None


def _setting(history: "History", of: str | None) -> tuple["Setting", str]:
    """The setting meant, and what it is called."""
    from planner.bench import bench_name

    stock = history.definition.stock
    pending = history.pending.get(bench_name()) or next(iter(history.pending.values()), None)
    if of == _STOCK or (of is None and pending is None):
        return stock, _STOCK
    if of is None or of == _PENDING:
        if pending is None:
            raise InputError(
                f"--of {_PENDING}: no run is pending, expected stock or a run's number"
            )
        return {**stock, **pending.settings}, f"pending run {pending.number}"
    run = history.by_number.get(int(of)) if re.fullmatch(r"\d{1,9}", of) else None
    if run is None:
        raise InputError(f"--of {of!r}: expected stock, pending, or the number of a run on record")
    return {**stock, **run.ran}, f"run {run.number}"


def _gigabits(given: str | None, timings: "Timings") -> int | None:
    from planner.trade.timing.refresh import REFRESH_NS

    if given is None:
        return None
    match = re.fullmatch(r"(?i)(\d{1,3})\s*(?:gb|gbit)?", given.strip())
    known = REFRESH_NS[timings.standard]
    if match is None or int(match[1]) not in known:
        sizes = ", ".join(map(str, known))
        raise InputError(
            f"--density {given!r}: expected one of {sizes} (Gb, {timings.standard}); no open source"
            " tells what the standard asks of others. The module's own SPD bytes do (planner timing"
            " read FILE), or its data sheet: leave --density out and type that time, as tRFC=295ns"
        )
    return int(match[1])
