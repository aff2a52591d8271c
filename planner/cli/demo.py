"""`planner demo`."""

import time
from collections.abc import Iterator
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from planner.cli.console import out, width
from planner.cli.plot import PICTURE, draw
from planner.cli.studies import new_folder, studies_home, suffix_of
from planner.errors import InputError

if TYPE_CHECKING:
    from planner.domain.run import Proposal, Run
    from planner.models.findings import Recommendation
    from planner.report.text.evening import Truth
    from planner.rigs.demo import DemoRig
    from planner.rigs.result import RigRun
    from planner.study import Study

_NAME = "demo"


def command(
    name: Annotated[
        str | None,
        typer.Argument(
            metavar="[NAME]",
            help="New folder under ./studies, or a path.  [default: demo, or demo-2 and so on]",
            show_default=False,
        ),
    ] = None,
    seed: Annotated[
        int, typer.Option(min=0, metavar="N", help="Which evening; the same N gives the same one.")
    ] = 0,
) -> None:
    """Watch a whole search on a made-up rig; leaves a study to go on with."""
    from planner.report.text.evening import going_on_text, opening_text, outcome_text, played_text
    from planner.report.text.verdict import verdict_text
    from planner.rigs.demo import DemoRig
    from planner.rigs.demo_definition import DEFINITION
    from planner.store import new_place
    from planner.study import Study

    began = time.monotonic()
    name, folder = _place(name)
    new_place(folder, DEFINITION)
    study, rig = Study.open(folder), DemoRig(seed)
    out(opening_text(study.history, folder, seed, width()))
    for asked, run in evening(study, rig):
        out(played_text(asked, run, study.history, width()))
    best, suffix = study.recommendation(), suffix_of(name)
    out("\n" + verdict_text(study.history, best, None, suffix, width()))
    draw(study.history, folder / PICTURE)
    kept, truth = _kept(study, best), _truth(study, best, rig)
    seconds = time.monotonic() - began
    out("\n" + outcome_text(study.history, kept, truth, folder / PICTURE, seconds, width()))
    out("\n" + going_on_text(folder, suffix, width()))


def evening(study: "Study", rig: "DemoRig") -> Iterator[tuple["Proposal | None", "Run"]]:
    """A run at stock, then what the study asks for until it has nothing left to propose."""
    result = rig.run({})
    yield None, study.record(result.outcome, settings={}, **_facts(result))
    while (proposal := study.next()) is not None:
        result = rig.run(proposal.settings)
        yield proposal, study.record(result.outcome, **_facts(result))


def _facts(result: "RigRun") -> dict[str, Any]:
    return {
        "minutes": result.minutes,
        "failed_after_s": result.failed_after_s,
        "score": result.score,
        "subscores": result.subscores,
        "readings": result.readings,
    }


def _place(name: str | None) -> tuple[str, Path]:
    """A name for the study and its folder, which is not there yet or empty.

    Raises:
        InputError: the folder named holds something.
    """
    if name is None:
        name = next(n for n in _names() if not (studies_home() / n).exists())
    folder = new_folder(name)
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise InputError(f"demo {name!r}: {folder} is there already, expected a new name")
    return name, folder


def _names() -> Iterator[str]:
    yield _NAME
    yield from (f"{_NAME}-{number}" for number in count(2))


def _kept(study: "Study", best: "Recommendation") -> float | None:
    knob = study.history.definition.searched
    assert knob is not None, "the demo searches a knob"
    return float(best.settings[knob.name]) if best.holds else None


def _truth(study: "Study", best: "Recommendation", rig: "DemoRig") -> "Truth":
    from planner.report.text.evening import Truth
    from planner.rigs.demo import NOMINAL_ROOM

    definition = study.history.definition
    knob = definition.searched
    assert knob is not None, "the demo searches a knob"
    sound = [
        float(value)
        for value in knob.values
        if rig.pass_probability({knob.name: value}) >= definition.goal.target
    ]
    return Truth(NOMINAL_ROOM, sound[-1] if sound else None, rig.pass_probability(best.settings))
